/** Answers as a request file, with comments for whoever opens it next. */
import { formatAddress, type Prefix } from '../../values/address.js';
import type { AllAnswers } from './answers.js';
import { inputsOf, lineName, untakenOf } from './inputs.js';
import { CONTROL, kindsText, mediaNetworks } from './kinds-text.js';
import { switchLines } from './switches-text.js';
import { listNames } from '../../words/lists.js';
import { quoted } from './quoted.js';

/** A small request, for those who write one without being asked. */
export const EXAMPLE = `rig: Sanderling
networks:
  - {name: red, role: media, leg: 1}
  - {name: blue, role: media, leg: 2}
formats:
  - {name: picture, essence: video, coding: st2110-20, width: 1920, height: 1080, frameRate: 50, scan: progressive}
kinds:
  - name: camera
    interfaces: [{name: red, network: red, rate: 25G}, {name: blue, network: blue, rate: 25G}]
    senders: [{name: picture, format: picture}]
areas: [{name: jetty}]
devices:
  - {name: cam, kind: camera, area: jetty, count: 4}
`;

/** A request in the shape of `schemas/request.schema.json`. */
export function requestText(answers: AllAnswers): string {
  const { rig, venue, areas, growthPercent } = answers;
  const inputs = inputsOf(answers);
  const lines = areas.flatMap(({ name, crates }) =>
    crates.flatMap(({ kind, count }) => {
      const own = lineName(name, kind, areas);
      const line = `name: ${quoted(own)}, kind: ${kind.name}, area: ${quoted(name)}, count: ${count}`;
      const taken = (inputs.get(kind) ?? []).map(
        ({ name: receiver, from }) => `      ${receiver}: ${JSON.stringify(from)}`,
      );
      if (taken.length === 0) return [`  - {${line}}`];
      return [`  - ${line.replaceAll(', ', '\n    ')}`, '    takes:', ...taken];
    }),
  );
  const untaken = untakenOf(answers);
  const switches = switchLines(answers, inputs);
  return [
    `# What ${oneLine(rig)} needs. \`rigproof allocate\` on this file makes the plan.`,
    'rigproof: 1',
    `rig: ${quoted(rig)}`,
    `venue: ${quoted(venue)}`,
    `growth: ${growthPercent}   # percent of places kept free`,
    '',
    'networks:',
    ...networkLines(answers),
    '',
    'areas:',
    ...areas.map(({ name }) => `  - {name: ${quoted(name)}}`),
    '',
    kindsText(answers).trimEnd(),
    '',
    'devices:',
    ...lines,
    '',
    ...(switches.length === 0 ? [] : ['switches:', ...switches, '']),
    ...(untaken.length === 0 ? [] : [`# Taken by nobody: ${oneLine(listNames(untaken, MOST_UNTAKEN))}.`, '']),
    `# Worth adding: ${switches.length === 0 ? 'switches (their ports are then dealt out), ' : ''}keepClear (plans of others on site), fixed (what is`,
    '# on a label already). schemas/request.schema.json describes every key.',
    '',
  ].join('\n');
}

const MOST_UNTAKEN = 12;

/** The block in parts: one for each media network, one for control. */
function networkLines({ networks, addressBlock, groupBlock, ...rest }: AllAnswers): readonly string[] {
  const names = mediaNetworks({ ...rest, networks });
  const media = names.map((name, index) => {
    const leg = names.length > 1 ? `, leg: ${index + 1}` : ', leg: 1';
    return `  - {name: ${name}, role: media${leg}, addresses: ${part(addressBlock, 2, index)}, groups: ${part(groupBlock, names.length - 1, index)}}`;
  });
  return [...media, `  - {name: ${CONTROL}, role: control, addresses: ${part(addressBlock, 2, names.length)}}`];
}

/** One of the parts a block has when its prefix is so many bits longer. */
function part({ network, length }: Prefix, bits: number, index: number): string {
  const size = 2 ** (32 - length - bits);
  return `${formatAddress(Number(network) + index * size)}/${length + bits}`;
}

/** For a comment: nothing that could end it. */
function oneLine(text: string): string {
  return text.replace(/[^\x20-\x7e]+/g, ' ');
}
