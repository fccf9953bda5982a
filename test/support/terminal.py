"""Runs a command in a terminal of 80 columns: its pid on standard error, all else passed through."""
import fcntl
import os
import pty
import select
import struct
import sys
import termios

pid, terminal = pty.fork()
if pid == 0:
    os.execvp(sys.argv[1], sys.argv[1:])
fcntl.ioctl(terminal, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
os.write(2, f"{pid}\n".encode())
inputs = [terminal, 0]
while True:
    ready, _, _ = select.select(inputs, [], [])
    if 0 in ready:
        typed = os.read(0, 65536)
        if typed:
            os.write(terminal, typed)
        else:
            inputs.remove(0)
    if terminal in ready:
        try:
            shown = os.read(terminal, 65536)
        except OSError:
            break
        if not shown:
            break
        os.write(1, shown)
_, status = os.waitpid(pid, 0)
sys.exit(os.waitstatus_to_exitcode(status) & 255)
