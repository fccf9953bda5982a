/** The scripts that ask for what Tab may complete. */
import { script } from '@bomb.sh/tab';
import { writeLine } from '../terminal.js';

/** Prints the script for a shell; nothing is asked before Tab is pressed. */
export function printScript(shell: 'bash' | 'zsh' | 'fish'): void {
  if (shell === 'bash') writeLine(BASH);
  else if (shell === 'zsh') writeLine(ZSH);
  else script(shell, NAME, NAME);
}

const NAME = 'lastrotation';

/**
 * The library's own for bash and zsh give what is typed to `eval`, and the one for bash needs a package that not
 * every bash has. Nothing of a line is ever run by these. After `:0` the shell completes files.
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

/** A colon parts a word from what is said of it, so one within the word is marked. */
const ZSH = `#compdef lastrotation
# Tab for lastrotation in zsh
_lastrotation() {
  local value about files=0
  local -a offers
  while IFS=$'\\t' read -r value about; do
    case $value in
      :0) files=1 ;;
      :*) ;;
      *) offers+=("\${value//:/\\\\:}\${about:+:$about}") ;;
    esac
  done < <(lastrotation complete -- "\${(@)words[2,CURRENT]}" 2> /dev/null)
  (( $#offers )) && _describe -V lastrotation offers
  (( files )) && _files
}
if [[ $zsh_eval_context[-1] == loadautofunc ]]; then _lastrotation "$@"; else compdef _lastrotation lastrotation; fi`;
