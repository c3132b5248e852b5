/** Where two formats contradict each other. */
import { codingNamed } from '../../media/codings/index.js';
import type { Coding, Format, Sender } from '../../plan/types.js';
import { formatTime } from '../../values/quantity.js';

export interface FormatDifference {
  /** The format's member, by its name in a plan. */
  readonly member: keyof Format;
  /** What each side states, for people: `50 frames/s`. */
  readonly first: string;
  readonly second: string;
}

/**
 * The members that both formats state and that differ; what only one states is no difference. Packet times are left to
 * `packetTimesDiffer`, because a leg may state its own.
 */
export function formatDifferences(a: Format, b: Format): readonly FormatDifference[] {
  if (a === b) return [];
  const found: FormatDifference[] = [];
  for (const one of MEMBERS) {
    const first = one.show(a);
    const second = one.show(b);
    if (first === undefined || second === undefined || first === second || one.same?.(a, b) === true) continue;
    found.push({ member: one.member, first, second });
  }
  // Formats of another essence or coding differ in everything; the cause is enough.
  const cause = found.find(({ member }) => member === 'essence') ?? found.find(({ member }) => member === 'coding');
  return cause === undefined ? found : [cause];
}

/** Sent first, expected second. A receiver may take fewer channels than are sent, but cannot get more. */
export function expectedDifferences(sender: Sender, sent: Format, expected: Format): readonly FormatDifference[] {
  const found = formatDifferences(sent, expected).filter(
    ({ member }) => member !== 'channels' || (expected.channels ?? 0) > (sent.channels ?? 0),
  );
  const sentNs = sender.legs[0]?.packetTimeNs ?? sent.packetTimeNs;
  const expectedNs = expected.packetTimeNs;
  if (sentNs === undefined || expectedNs === undefined || !packetTimesDiffer(sentNs, expectedNs)) return found;
  if (found.some(({ member }) => member === 'essence' || member === 'coding')) return found;
  return [...found, { member: 'packetTimeNs', first: formatTime(sentNs), second: formatTime(expectedNs) }];
}

/**
 * Whether two packet times are not one. Descriptions round to two decimals of a millisecond (0.12 for 125 µs,
 * ST 2110-31), so what lies closer than 10 µs is one time.
 */
export function packetTimesDiffer(firstNs: number | undefined, secondNs: number | undefined): boolean {
  return firstNs !== undefined && secondNs !== undefined && Math.abs(firstNs - secondNs) >= ROUNDING_NS;
}

const ROUNDING_NS = 10_000;

interface Member {
  readonly member: keyof Format;
  readonly show: (format: Format) => string | undefined;
  readonly same?: (a: Format, b: Format) => boolean;
}

const MEMBERS: readonly Member[] = [
  { member: 'essence', show: ({ essence }) => essence },
  {
    member: 'coding',
    show: ({ coding }) => (comparedAs(coding) === undefined ? undefined : coding),
    same: (a, b) => comparedAs(a.coding) === comparedAs(b.coding),
  },
  { member: 'width', show: ({ width }) => unit(width, 'pixels') },
  { member: 'height', show: ({ height }) => unit(height, 'lines') },
  {
    member: 'frameRate',
    show: ({ frameRate }) =>
      frameRate === undefined ? undefined : `${frameRate[0]}${frameRate[1] === 1 ? '' : `/${frameRate[1]}`} frames/s`,
    same: (a, b) =>
      a.frameRate !== undefined &&
      b.frameRate !== undefined &&
      a.frameRate[0] * b.frameRate[1] === b.frameRate[0] * a.frameRate[1],
  },
  { member: 'scan', show: ({ scan }) => scan },
  { member: 'sampling', show: ({ sampling }) => sampling },
  { member: 'depth', show: ({ depth }) => (depth === undefined ? undefined : `${depth} bit`) },
  {
    member: 'channels',
    show: ({ channels }) => unit(channels, channels === 1 ? 'channel' : 'channels'),
  },
  { member: 'sampleRateHz', show: ({ sampleRateHz }) => unit(sampleRateHz, 'Hz') },
  { member: 'sampleBits', show: ({ sampleBits }) => unit(sampleBits, 'bit') },
];

function comparedAs(coding: Coding | undefined): string | undefined {
  return codingNamed(coding)?.comparedAs;
}

function unit(value: number | undefined, name: string): string | undefined {
  return value === undefined ? undefined : `${value} ${name}`;
}
