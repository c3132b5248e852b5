/** A function for zsh's completion system; the file may be sourced, or lie in a folder of `fpath` as `_rigproof`. */
import type { OptionWords, ProgramWords, Values } from './words.js';

export function zshScript({ version, everywhere, commands }: ProgramWords): string {
  const takes = everywhere.filter(({ values }) => values !== undefined).map(({ long }) => long);
  return `#compdef rigproof
# Completion of rigproof ${version} for zsh.
_rigproof() {
  local before=\${words[CURRENT-1]} command= kind=words i
  local -a offered options
  if [[ $PREFIX == --*=* ]]; then
    before=\${PREFIX%%=*}
    compset -P 1 '*='
  fi
  for ((i = 2; i < CURRENT; i++)); do
    case \${words[i]} in
      ${takes.join(' | ')}) i=$((i + 1)) ;;
      -*) ;;
      *)
        command=\${words[i]}
        break
        ;;
    esac
  done
  case "$command $before" in
${cases(everywhere, "*' ")}${commands.map(({ name, options }) => cases(options, `'${name} `)).join('')}    *)
      options=(${described(everywhere)})
      case $command in
        '') offered=(${list(commands.map(({ name, says }) => entry(name, says)))}) ;;
${commands
  .map(
    ({ name, options, values }) =>
      `        ${name})\n          options+=(${described(options)})\n          ${offer(values)}\n          ;;\n`,
  )
  .join('')}        *) return 1 ;;
      esac
      if [[ $PREFIX == -* ]]; then
        _describe -o option options
        return
      fi
      ;;
  esac
  case $kind in
    files) _files ;;
    folders) _files -/ ;;
    words) _describe value offered ;;
    *) return 1 ;;
  esac
}
if [[ \${funcstack[1]} == _rigproof ]]; then
  _rigproof "$@"
else
  compdef _rigproof rigproof
fi
`;
}

/** What follows each option that takes a value. */
function cases(options: readonly OptionWords[], open: string): string {
  return options
    .flatMap(({ long, values }) => (values === undefined ? [] : [`    ${open}${long}') ${offer(values)} ;;\n`]))
    .join('');
}

function offer(values: Values): string {
  return typeof values === 'string' ? `kind=${values}` : `offered=(${list(values)})`;
}

function described(options: readonly OptionWords[]): string {
  return list(
    options.flatMap(({ long, short, says }) => [
      entry(long, says),
      ...(short === undefined ? [] : [entry(short, says)]),
    ]),
  );
}

/** A word and what it is; the first colon parts them. */
function entry(word: string, says: string): string {
  return `${word}:${says}`;
}

function list(words: readonly string[]): string {
  return words.map((word) => `'${word.replaceAll("'", "'\\''")}'`).join(' ');
}
