/** Losses in time where a spanning tree opens links only after a while, which clocks wait for as streams do. */
import type { Link } from '../../plan/types.js';
import type { Span } from '../../values/span.js';
import { clockMoments, endIn, type ClockMoment } from './clock-moments.js';
import type { NamedLoss } from './failover.js';
import { pathsWithout, type Attachment } from './paths.js';
import { timesAfter, type Standing } from './timed/after-loss.js';
import { TAKEOVER_STARTS } from './timed/spans.js';
import { goneWith, timingWithout, type TimingBase, type TimingState } from './timing.js';

/** Links kept blocked until then, in seconds after the loss. */
export interface Opening {
  readonly links: ReadonlySet<Link>;
  readonly opens: Span;
}

/** Undefined where a clock keeps its time over a link that is kept blocked: then nothing tells what passes it. */
export function momentsBehind(
  lost: NamedLoss,
  { links, opens }: Opening,
  base: TimingBase,
  whole: TimingState,
): readonly ClockMoment[] | undefined {
  const { loss } = lost;
  const gone = goneWith(loss);
  const without = (more: ReadonlySet<Link>): ReadonlyMap<Attachment, number> =>
    pathsWithout(base.topology, { owners: gone.owners, links: new Set([...gone.links, ...more]) });
  if (!holdsWithout(links, base, whole)) return undefined;
  const [first, last] = [without(links), without(new Set())];
  const state = timingWithout(base, loss, whole);
  // A port at a link that is kept blocked has a carrier and hears nobody: a path of its own, no number of which is taken.
  const blocked = new Map([...last.keys()].filter((one) => !first.has(one)).map((one, index) => [one, -1 - index]));
  const standing: Standing = {
    clocks: whole.clocks,
    unheard: [],
    pathOf: ({ attachment }) => last.get(attachment),
    meanwhile: {
      stoodOn: ({ attachment, path }) => (blocked.has(attachment) ? undefined : path),
      pathOf: ({ attachment }) => first.get(attachment) ?? blocked.get(attachment),
      opens,
    },
  };
  const times = timesAfter(loss, whole, standing, TAKEOVER_STARTS);
  return clockMoments(loss, {
    before: whole,
    standing,
    times,
    electedFor: (clock) => endIn(state, clock, whole),
  });
}

/** Whether all clocks hear whom they follow without some links. */
function holdsWithout(links: ReadonlySet<Link>, { topology }: TimingBase, whole: TimingState): boolean {
  const paths = pathsWithout(topology, { owners: new Set(), links });
  return whole.clocks.every((clock) => {
    const parent = whole.outcomeOf(clock)?.parent;
    const [through, from] = [clock.ports[parent?.through ?? -1], parent?.clock.ports[parent.port]];
    if (through === undefined || from === undefined) return true;
    const path = paths.get(through.attachment);
    return path !== undefined && path === paths.get(from.attachment);
  });
}
