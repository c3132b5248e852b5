/** What a finding does to the show, in a few words. */
import type { Effect, EffectKind } from '../../lint/effect.js';
import type { Receiver } from '../../plan/types.js';
import { prose, say, sayNames, type Phrase } from '../../page/phrase.js';
import { counted } from '../../words/counts.js';
import { nothingOf } from '../../words/lists.js';

const MOST_BOXES = 3;

/** Above the lines of one kind. */
export const EFFECT_TITLES: Readonly<Record<EffectKind, string>> = {
  dark: 'Nothing arrives',
  behind: 'Also in the way of receivers left dark above',
  doubtful: 'A leg is lost, the others are not followed',
  spoiled: 'Arrives unfit for air',
  weakened: 'Without protection',
  unknown: 'Effect on receivers not followed',
  unicast: 'Control and other unicast suffer',
  later: 'Hurts later',
  paper: 'Wrong on paper only',
};

/** One phrase each kind of harm there is; none where the title above says all. `of` is what has the fault, said already. */
export function effectPhrases(
  { kind, dark, behind, doubtful, spoiled, weakened }: Effect,
  of: string,
): readonly Phrase[] {
  return [
    ...(dark.length === 0 ? [] : [say`${prose(nothingOfAll(dark))}${at(dark, of)}`]),
    ...listed(kind === 'behind', 'in the way of more', behind, of),
    ...listed(kind === 'doubtful', 'a leg less', doubtful, of),
    ...listed(kind === 'spoiled', 'unfit', spoiled, of),
    ...listed(kind === 'weakened', 'unprotected', weakened, of),
  ];
}

/** Under a title that says it already, whom alone; `of` itself is said too. */
function listed(
  isTitled: boolean,
  what: string,
  receivers: readonly Receiver[] | undefined,
  of: string,
): readonly Phrase[] {
  if (receivers === undefined) return [prose(isTitled ? 'receivers not counted' : `${what}: receivers not counted`)];
  if (receivers.length === 0) return [];
  if (!isTitled) return [say`${prose(what)}${at(receivers, of)}`];
  const whom = whomOf(receivers);
  return receivers.length === 1 && receivers[0]?.label === of ? [] : [whom];
}

function nothingOfAll(receivers: readonly Receiver[]): string {
  return nothingOf(receivers.map(({ takes, format }) => takes ?? { essence: format?.essence, format }));
}

/** ` at home-gateway/programme`; empty where it is `of` itself. */
function at(receivers: readonly Receiver[], of: string): Phrase {
  return receivers.length === 1 && receivers[0]?.label === of ? [] : say` at ${whomOf(receivers)}`;
}

/** `home-gateway/programme`, `11 receivers of replay-131`, `12 receivers (panel-75, panel-76, panel-77 and 2 more)`. */
export function whomOf(receivers: readonly Receiver[]): Phrase {
  const [first] = receivers;
  if (first !== undefined && receivers.length === 1) return say`${first.label}`;
  const boxes = [...new Set(receivers.map(({ device }) => device.name))];
  const count = prose(counted(receivers.length, 'receiver'));
  return boxes.length === 1 ? say`${count} of ${sayNames(boxes)}` : say`${count} (${sayNames(boxes, MOST_BOXES)})`;
}

/** For programs: labels of receivers, null where nobody knows which. */
export function effectJson({ kind, dark, behind, doubtful, spoiled, weakened }: Effect): object {
  const labels = (list: readonly Receiver[] | undefined): readonly string[] | null =>
    list === undefined ? null : list.map(({ label }) => label);
  return {
    kind,
    dark: labels(dark),
    behind: labels(behind),
    doubtful: labels(doubtful),
    spoiled: labels(spoiled),
    weakened: labels(weakened),
  };
}
