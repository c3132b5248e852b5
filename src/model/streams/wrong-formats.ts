/**
 * Senders whose format is the slip: everybody who takes them and states a format expects the same other one. Where one
 * line of a plan says that format, or the receivers say theirs in several, the line of the senders is the one to change.
 */
import { append } from '../../collections/group-by.js';
import { kept } from '../../collections/kept.js';
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import { byLabel } from '../../collections/order.js';
import { placeOf } from '../../plan/place.js';
import type { Format, Kind, Plan, Receiver, Sender } from '../../plan/types.js';
import { byLine } from '../written/index.js';
import { expectedDifferences, type FormatDifference } from './format-differences.js';

/** One line that says a wrong format. */
export interface WrongFormat {
  /** The kind that writes it for its devices; undefined where a device does. */
  readonly kind: Kind | undefined;
  /** Those that somebody takes who states a format, sorted by label. */
  readonly senders: NonEmpty<Sender>;
  /** Sorted by label. */
  readonly receivers: NonEmpty<Receiver>;
  /** What they expect. */
  readonly expected: Format;
  readonly differences: readonly FormatDifference[];
}

export interface WrongFormats {
  /** Receivers set to another format than the stream they take has, in plan order. */
  readonly wrong: readonly Receiver[];
  readonly differencesOf: (receiver: Receiver) => readonly FormatDifference[];
  readonly lines: readonly WrongFormat[];
  /** The line that is wrong about a sender. */
  readonly of: (sender: Sender) => WrongFormat | undefined;
}

/** Fewer lines of receivers that agree say nothing against a sender's. */
const FEWEST_LINES = 2;

export function findWrongFormats(plan: Plan): WrongFormats {
  const differencesOf = compareOnce();
  const wrong = plan.receivers.filter((receiver) => differencesOf(receiver).length > 0);
  const lines = wrong.length === 0 ? [] : wrongLines(plan, differencesOf);
  const found = new Map(lines.flatMap((line) => line.senders.map((sender) => [sender, line] as const)));
  return { wrong, differencesOf, lines, of: (sender) => found.get(sender) };
}

/** Thousands of receivers of one format take one stream. */
function compareOnce(): WrongFormats['differencesOf'] {
  const compared = new Map<Format, Map<Sender, readonly FormatDifference[]>>();
  return ({ format, takes }) => {
    if (format === undefined || takes?.format === undefined) return [];
    const sent = takes.format;
    const known = kept(compared, format, () => new Map<Sender, readonly FormatDifference[]>());
    return kept(known, takes, () => expectedDifferences(takes, sent, format));
  };
}

function wrongLines({ receivers }: Plan, differencesOf: WrongFormats['differencesOf']): readonly WrongFormat[] {
  const takers = new Map<Sender, Receiver[]>();
  for (const one of receivers) {
    if (one.format === undefined || one.takes?.format === undefined) continue;
    append(takers, one.takes, one);
  }
  return byLine(takers.keys(), ({ device }) => device, 'format').flatMap(({ kind, things }) => {
    const all = things.flatMap((sender) => takers.get(sender) ?? []);
    const [first] = all;
    const expected = first?.format;
    // An input that switches expects one format of all its choices: they are told apart by what each of them sends.
    if (first === undefined || expected === undefined || all.some(({ selection }) => selection !== undefined))
      return [];
    if (all.some((one) => one.format !== expected || differencesOf(one).length === 0)) return [];
    if (new Set(all.map((one) => placeOf(one, 'format').container)).size < FEWEST_LINES) return [];
    const sorted = byLabel(all, ({ label }) => label);
    if (!isNonEmpty(sorted)) return [];
    const senders = byLabel(things, ({ label }) => label);
    return [{ kind, senders, receivers: sorted, expected, differences: differencesOf(first) }];
  });
}
