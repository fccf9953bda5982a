/** The scripts that ask for what Tab may complete. */
import { script } from '@bomb.sh/tab';
import { writeLine } from '../terminal.js';

/** Prints the script for a shell; nothing is asked before Tab is pressed. */
export function printScript(shell: 'bash' | 'zsh' | 'fish'): void {
  if (shell === 'bash') writeLine(BASH);
  else script(shell, NAME, NAME);
}

const NAME = 'lastrotation';

/**
 * The library's own for bash gives what is typed to `eval`, and needs a package that not every bash has. Nothing
 * of a line is ever run by this one. After `:0` bash completes files.
 */
const BASH = `# Tab for lastrotation in bash
_lastrotation() {
  local line=\${COMP_LINE:0:COMP_POINT} value rest words=()
  read -ra words <<< "$line"
  [[ $line == *[[:space:]] ]] && words+=('')
  COMPREPLY=()
  while IFS=$'\\t' read -r value rest; do
    case $value in
      :0) ;;
      :*) compopt +o default 2> /dev/null ;;
      *) COMPREPLY+=("$value") ;;
    esac
  done < <(lastrotation complete -- "\${words[@]:1}" 2> /dev/null)
}
complete -o default -F _lastrotation lastrotation`;
