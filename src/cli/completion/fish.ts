/** Lines for fish's `complete`; the file may be sourced, or lie in fish's folder of completions. */
import type { OptionWords, ProgramWords, Values } from './words.js';

export function fishScript({ version, everywhere, commands }: ProgramWords): string {
  const takes = everywhere.filter(({ values }) => values !== undefined).map(({ long }) => long);
  const lines = [
    'complete -c rigproof -f',
    ...everywhere.map((option) => optionLine(option)),
    ...commands.map(
      ({ name, says }) => `complete -c rigproof -n 'not __rigproof_command >/dev/null' -a ${name} -d ${quoted(says)}`,
    ),
    ...commands.flatMap(({ name, options, values }) => {
      const when = `-n 'contains -- ${name} (__rigproof_command)'`;
      return [
        ...options.map((option) => optionLine(option, when)),
        ...(values === 'unknown' ? [] : [`complete -c rigproof ${when} ${argument(values)}`]),
      ];
    }),
  ];
  return `# Completion of rigproof ${version} for fish.
function __rigproof_command
    set -l typed (commandline -opc)
    set -e typed[1]
    while set -q typed[1]
        switch $typed[1]
            case ${takes.join(' ')}
                set -e typed[1]
            case '-*'
            case '*'
                echo $typed[1]
                return 0
        end
        set -e typed[1]
    end
    return 1
end
${lines.join('\n')}
`;
}

function optionLine({ long, short, says, values }: OptionWords, when = ''): string {
  const parts = [
    'complete -c rigproof',
    when,
    short === undefined ? '' : `-s ${short.slice(1)}`,
    `-l ${long.slice(2)}`,
    values === undefined ? '' : `-r ${argument(values)}`,
    `-d ${quoted(says)}`,
  ];
  return parts.filter((part) => part !== '').join(' ');
}

function argument(values: Values): string {
  if (values === 'files') return '-F';
  if (values === 'folders') return "-f -a '(__fish_complete_directories)'";
  return values === 'unknown' ? '-f' : `-f -a '${values.join(' ')}'`;
}

function quoted(text: string): string {
  return `'${text.replaceAll('\\', '\\\\').replaceAll("'", "\\'")}'`;
}
