/** The kinds and formats that the answers name, as YAML in the form of a plan, without numbers. */
import type { AllAnswers } from './answers.js';
import { inputsOf, type TakenInput } from './inputs.js';
import { COMMON_FORMATS, COMMON_KINDS, type CommonFormat, type CommonKind } from './common-kinds.js';

/** Names of the media networks, the first leg first; each box has an interface of the same name on each. */
export function mediaNetworks({ networks }: Pick<AllAnswers, 'networks'>): readonly string[] {
  return networks === 2 ? ['red', 'blue'] : ['media'];
}

/** Name of the network boxes are set up over, and of the interface on it. */
export const CONTROL = 'control';

/** `formats:` and `kinds:`, only what stands somewhere. */
export function kindsText(answers: AllAnswers): string {
  const kinds = usedKinds(answers);
  // Without a clock to lead nobody has one to follow.
  const led = kinds.some(({ leads }) => leads);
  const inputs = inputsOf(answers);
  const formats = new Set<CommonFormat>(kinds.flatMap(({ senders }) => senders.map(({ format }) => format)));
  const lines = [
    ...(formats.size === 0 ? [] : ['formats:', ...[...formats].map(formatLine), '']),
    'kinds:',
    ...kinds.flatMap((kind) => kindLines(kind, mediaNetworks(answers), led, inputs.get(kind) ?? [])),
  ];
  return `${lines.join('\n')}\n`;
}

function usedKinds({ areas }: AllAnswers): readonly CommonKind[] {
  const used = new Set(areas.flatMap(({ crates }) => crates.map(({ kind }) => kind)));
  return COMMON_KINDS.filter((kind) => used.has(kind));
}

function formatLine(name: CommonFormat): string {
  return `  - {name: ${name}, ${COMMON_FORMATS[name]}}`;
}

function kindLines(
  { name, about, rate, senders, leads }: CommonKind,
  networks: readonly string[],
  led: boolean,
  inputs: readonly TakenInput[],
): readonly string[] {
  const legs = networks.map((network) => `{interface: ${network}}`).join(', ');
  const ptp = leads
    ? 'mode: ordinary, grandmaster: true, clockClass: 6, traceable: true'
    : 'mode: ordinary, slaveOnly: true';
  return [
    `  - name: ${name}`,
    `    about: ${JSON.stringify(about)}`,
    ...(led ? [`    ptp: {${ptp}, interfaces: [${networks.join(', ')}]}`] : []),
    '    interfaces:',
    ...networks.map((network) => `      - {name: ${network}, network: ${network}, rate: ${rate}}`),
    `      - {name: ${CONTROL}, network: ${CONTROL}, rate: 1G}`,
    ...(senders.length === 0 ? [] : ['    senders:']),
    ...senders.map((sender) => `      - {name: ${sender.name}, format: ${sender.format}, legs: [${legs}]}`),
    ...(inputs.length === 0 ? [] : ['    receivers:']),
    ...inputs.map(
      (input) => `      - {name: ${input.name}, format: ${input.format}, interfaces: [${networks.join(', ')}]}`,
    ),
  ];
}
