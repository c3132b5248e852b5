/**
 * The questions of `allocate --ask`, one after the other: a pure machine of answers. Each question has an answer for those
 * who do not know yet, and says what to write instead of an answer it cannot take.
 */
import { parsePrefix, formatPrefix, inPrefix, isIPv4, type Prefix } from '../../values/address.js';
import type { Answers, AnsweredArea } from './answers.js';
import { readCrates } from './read-crates.js';
import { readTaking, takingText, usualTaking } from './taking.js';

/** The answers with one more, or what to write instead. */
export type Reply = { readonly answers: Answers } | { readonly instead: string };

export interface Question {
  readonly text: string;
  /** Taken for an empty answer. */
  readonly usual: string;
  readonly reply: (line: string) => Reply;
}

/** The first question that is not answered; undefined when all are. `exists` tells of files, which are never overwritten. */
export function nextQuestion(answers: Answers, exists: (path: string) => boolean): Question | undefined {
  const { rig, venue, areas, taking, networks, switchPorts, addressBlock, groupBlock, growthPercent, file } = answers;
  if (rig === undefined) return nameQuestion('What is the rig called?', 'Rig', (name) => ({ ...answers, rig: name }));
  if (venue === undefined) return nameQuestion('Where does it work?', 'Venue', (name) => ({ ...answers, venue: name }));
  if (areas === undefined) return areasQuestion(answers);
  const open = areas.findIndex(({ crates }) => crates === undefined);
  if (open >= 0) return cratesQuestion(answers, areas, open);
  if (taking === undefined) return takingQuestion(answers, areas);
  if (networks === undefined) return networksQuestion(answers);
  if (switchPorts === undefined) return switchesQuestion(answers);
  if (addressBlock === undefined) return addressQuestion(answers);
  if (groupBlock === undefined) return groupQuestion(answers);
  if (growthPercent === undefined) return growthQuestion(answers);
  return file === undefined ? fileQuestion(answers, rig, exists) : undefined;
}

/** Takes a line for a question: surrounding blanks do not count, an empty line is the usual answer. */
export function replyTo(question: Question, line: string): Reply {
  const text = line.trim();
  return question.reply(text === '' ? question.usual : text);
}

/** Names as a plan takes them (`name` in `schemas/plan.schema.json`), and short enough for a label. */
const NAME = /^[^\u0000-\u001f\u007f-\u009f/,:]{1,40}$/;
const NAME_INSTEAD = 'write up to 40 letters, numbers and blanks, without slash, comma or colon';

function nameQuestion(text: string, usual: string, put: (name: string) => Answers): Question {
  return { text, usual, reply: (line) => (NAME.test(line) ? { answers: put(line) } : { instead: NAME_INSTEAD }) };
}

const MOST_AREAS = 20;

function areasQuestion(answers: Answers): Question {
  return {
    text: 'In which areas do boxes stand? Names with commas between.',
    usual: 'truck, stage',
    reply: (line) => {
      const names = line
        .split(',')
        .map((name) => name.trim())
        .filter((name) => name !== '');
      if (names.length === 0) return { instead: 'write at least one area: truck' };
      if (names.length > MOST_AREAS)
        return { instead: `write no more than ${MOST_AREAS} areas; more go into the file` };
      const wrong = names.find((name) => !NAME.test(name));
      if (wrong !== undefined) return { instead: `for the area \`${wrong}\` ${NAME_INSTEAD}` };
      const twice = names.find((name, index) => names.indexOf(name) < index);
      if (twice !== undefined) return { instead: `name \`${twice}\` once` };
      return { answers: { ...answers, areas: names.map((name) => ({ name })) } };
    },
  };
}

function cratesQuestion(answers: Answers, areas: readonly AnsweredArea[], index: number): Question {
  const area = areas[index]?.name ?? '';
  return {
    text: `What stands in ${area}? Counts and kinds: 4 cameras, 2 stage boxes, 1 commentary, 3 panels, 2 clocks; or none.`,
    // Clocks belong into the first area, where the core is.
    usual: index === 0 ? FIRST_AREA : '4 cameras, 2 stage boxes, 1 commentary position',
    reply: (line) => {
      const read = readCrates(line);
      if ('instead' in read) return read;
      const filled = areas.map((one, at) => (at === index ? { ...one, crates: read.crates } : one));
      const empty = filled.every(({ crates }) => crates?.length === 0);
      if (empty) return { instead: 'nothing stands in any area: write at least `1 camera`' };
      return { answers: { ...answers, areas: filled } };
    },
  };
}

const FIRST_AREA =
  '2 clocks, 1 vision mixer, 1 multiviewer, 1 replay server, 1 mixing desk, 1 intercom matrix, 2 intercom panels';

function takingQuestion(answers: Answers, areas: readonly AnsweredArea[]): Question {
  const usual = usualTaking(areas);
  const example = 'multiviewers: cameras, graphics; replay servers: none';
  return {
    text:
      usual.size === 0
        ? `Who takes streams from whom? None of these boxes takes any of itself; write it as ${example}.`
        : `Who takes streams from whom? Usually ${takingText(usual)}. Write what is different, as ${example}.`,
    usual: 'nothing is different',
    reply: (line) => {
      const read = readTaking(line === 'nothing is different' ? '' : line, usual, areas);
      return 'instead' in read ? read : { answers: { ...answers, taking: read.taking } };
    },
  };
}

const MOST_SWITCH_PORTS = 512;

function switchesQuestion(answers: Answers): Question {
  return {
    text: 'How many ports for boxes has a switch? In each area stand as many of each network as its boxes need; 0 leaves switches out.',
    usual: '48',
    reply: (line) => {
      const ports = /^(\d{1,3})(?: ports?)?$/i.exec(line)?.[1];
      if (ports === undefined || Number(ports) > MOST_SWITCH_PORTS)
        return { instead: `write a whole number from 0 to ${MOST_SWITCH_PORTS}` };
      return { answers: { ...answers, switchPorts: Number(ports) } };
    },
  };
}

const ONE = /^(1|one|single|no|n)$/i;
const TWO = /^(2|two|dual|redundant|yes|y)$/i;

function networksQuestion(answers: Answers): Question {
  return {
    text: 'One media network, or two, each carrying every stream (ST 2022-7)?',
    usual: '2',
    reply: (line) => {
      if (ONE.test(line)) return { answers: { ...answers, networks: 1 } };
      return TWO.test(line) ? { answers: { ...answers, networks: 2 } } : { instead: 'write 1 or 2' };
    },
  };
}

/** RFC 1918 §3. */
const PRIVATE: readonly Prefix[] = prefixes('10.0.0.0/8', '172.16.0.0/12', '192.168.0.0/16');

function addressQuestion(answers: Answers): Question {
  return blockQuestion({
    text: 'From which block may addresses be taken?',
    usual: '10.20.0.0/14',
    within: PRIVATE,
    lengths: [8, 22],
    put: (block) => ({ ...answers, addressBlock: block }),
  });
}

/** Groups of an organisation's own (RFC 2365 §6), the source-specific range left out: its receivers must all speak IGMPv3. */
const OWN_GROUPS: readonly Prefix[] = prefixes('239.0.0.0/8');

function groupQuestion(answers: Answers): Question {
  return blockQuestion({
    text: 'From which block may multicast groups be taken?',
    // RFC 2365 §6.2: the organisation-local scope.
    usual: '239.192.0.0/14',
    within: OWN_GROUPS,
    lengths: [8, 20],
    put: (block) => ({ ...answers, groupBlock: block }),
  });
}

function blockQuestion({
  text,
  usual,
  within,
  lengths: [shortest, longest],
  put,
}: {
  readonly text: string;
  readonly usual: string;
  readonly within: readonly Prefix[];
  readonly lengths: readonly [number, number];
  readonly put: (block: Prefix) => Answers;
}): Question {
  const instead = `write a block as ${usual}, from /${shortest} to /${longest}, inside ${within.map(formatPrefix).join(', ')}`;
  return {
    text,
    usual,
    reply: (line) => {
      const block = parsePrefix(line);
      if (block === undefined || !isIPv4(block.network)) return { instead };
      if (block.address !== block.network)
        return { instead: `that block begins at ${formatPrefix(block)}: write that` };
      const inside = within.some((one) => block.length >= one.length && inPrefix(block.network, one));
      return inside && block.length >= shortest && block.length <= longest ? { answers: put(block) } : { instead };
    },
  };
}

const MOST_GROWTH = 200;

function growthQuestion(answers: Answers): Question {
  return {
    text: 'How much room for more, in percent?',
    usual: '25',
    reply: (line) => {
      const percent = /^(\d{1,3}) ?%?$/.exec(line)?.[1];
      if (percent === undefined || Number(percent) > MOST_GROWTH)
        return { instead: `write a whole number from 0 to ${MOST_GROWTH}` };
      return { answers: { ...answers, growthPercent: Number(percent) } };
    },
  };
}

function fileQuestion(answers: Answers, rig: string, exists: (path: string) => boolean): Question {
  return {
    text: 'Into which file shall the request go?',
    usual: freeName(rig, exists),
    reply: (line) => {
      if (!/\.ya?ml$/i.test(line)) return { instead: 'write a name that ends in .yaml' };
      return exists(line)
        ? { instead: `${line} exists and is kept: write another name` }
        : { answers: { ...answers, file: line } };
    },
  };
}

/** `sanderling-request.yaml`, with a number where that exists. */
function freeName(rig: string, exists: (path: string) => boolean): string {
  const stem = `${
    rig
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-|-$/g, '') || 'rig'
  }-request`;
  for (let number = 1; ; number++) {
    const name = number === 1 ? `${stem}.yaml` : `${stem}-${number}.yaml`;
    if (!exists(name)) return name;
  }
}

function prefixes(...texts: readonly string[]): readonly Prefix[] {
  return texts.flatMap((text) => parsePrefix(text) ?? []);
}
