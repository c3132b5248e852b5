/** A function for bash's programmable completion. */
import { flagsOf, type OptionWords, type ProgramWords, type Values } from './words.js';

/** Bash parts a line at `=` too, and completes files itself where the function offers nothing and leaves it on. */
export function bashScript({ version, everywhere, commands }: ProgramWords): string {
  const takes = everywhere.filter(({ values }) => values !== undefined).map(({ long }) => long);
  return `# Completion of rigproof ${version} for bash.
_rigproof() {
  local word=\${COMP_WORDS[COMP_CWORD]} before=\${COMP_WORDS[COMP_CWORD-1]} command= offered= kind=words line i
  COMPREPLY=()
  if [[ $word == '=' ]]; then
    word=
  elif [[ $before == '=' ]]; then
    before=\${COMP_WORDS[COMP_CWORD-2]}
  fi
  for ((i = 1; i < COMP_CWORD; i++)); do
    case \${COMP_WORDS[i]} in
      ${takes.join(' | ')})
        i=$((i + 1))
        if [[ \${COMP_WORDS[i]} == '=' ]]; then i=$((i + 1)); fi
        ;;
      -*) ;;
      *)
        command=\${COMP_WORDS[i]}
        break
        ;;
    esac
  done
  case "$command $before" in
${cases(everywhere, "*' ", "'")}${commands.map(({ name, options }) => cases(options, `'${name} `, "'")).join('')}    *)
      case "$command $word" in
        ' -'*) offered='${flagsOf(everywhere).join(' ')}' ;;
        ' '*) offered='${commands.map(({ name }) => name).join(' ')}' ;;
${commands
  .map(
    ({ name, options, values }) =>
      `        '${name} -'*) offered='${flagsOf([...options, ...everywhere]).join(' ')}' ;;\n        '${name} '*) ${offer(values)} ;;\n`,
  )
  .join('')}      esac
      ;;
  esac
  case $kind in
    files) return ;;
    folders)
      compopt +o default -o dirnames 2>/dev/null
      return
      ;;
  esac
  compopt +o default 2>/dev/null
  while IFS= read -r line; do
    COMPREPLY+=("$line")
  done < <(compgen -W "$offered" -- "$word")
}
complete -o default -F _rigproof rigproof
`;
}

/** What follows each option that takes a value. */
function cases(options: readonly OptionWords[], open: string, close: string): string {
  return options
    .flatMap(({ long, values }) => (values === undefined ? [] : [`    ${open}${long}${close}) ${offer(values)} ;;\n`]))
    .join('');
}

function offer(values: Values): string {
  return typeof values === 'string' ? `kind=${values}` : `offered='${values.join(' ')}'`;
}
