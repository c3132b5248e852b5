/** Segments of a redundancy leg that hang on one querier, though some of their streams do not pass through it. */
import { groupBy } from '../../collections/group-by.js';
import type { Sender, Switch } from '../../plan/types.js';
import type { Candidate, GroupSegment } from './group-segments.js';
import { goneOf, treeWithout } from './losses.js';

export interface LoneQuerier {
  readonly querier: Candidate;
  /** Streams that still get from their sender to a receiver when it fails. */
  readonly survivors: number;
}

/** The only querier of a leg's segment, where its failure leaves streams to be forgotten; undefined where there is none or a second. */
export function loneQuerier(segment: GroupSegment): LoneQuerier | undefined {
  const { candidates, snooping } = segment;
  const [querier] = candidates;
  if (
    querier?.querier === undefined ||
    candidates.length > 1 ||
    snooping === false ||
    segment.flows.length === 0 ||
    !isLeg(segment)
  )
    return undefined;
  const survivors = survivorsOf(segment, querier);
  return survivors === 0 ? undefined : { querier, survivors };
}

/** Segments that snoop and whose only querier is the only one of their streams' other legs too. */
export function servingSeveralLegs(segments: readonly GroupSegment[]): ReadonlySet<GroupSegment> {
  const found = new Set<GroupSegment>();
  const alone = segments.filter(({ candidates, snooping }) => candidates.length === 1 && snooping === true);
  for (const own of groupBy(alone, ({ candidates }): object | undefined => candidates[0]?.on).values()) {
    if (own.length < 2) continue;
    const first = new Map<Sender, GroupSegment>();
    for (const segment of own) {
      for (const { sender } of segment.sent) {
        const other = first.get(sender) ?? segment;
        first.set(sender, other);
        if (other !== segment) found.add(other).add(segment);
      }
    }
  }
  return found;
}

/** A VLAN of one leg's network, or in which a redundant stream has a leg. */
function isLeg(segment: GroupSegment): boolean {
  return (
    segment.domain.vlans.some(({ network }) => network?.leg !== undefined) ||
    segment.sent.some(({ sender }) => sender.legs.length > 1)
  );
}

function survivorsOf({ forwarding, flows }: GroupSegment, { on }: Candidate): number {
  if (forwarding === undefined || on === undefined) return 0;
  const node = isSwitch(on) ? forwarding.segment.nodeOf.get(on) : undefined;
  const { segment, parts } = forwarding;
  const { component } = isSwitch(on) && node !== undefined ? treeWithout(segment, parts, goneOf(on)) : forwarding.tree;
  const lives = (from: number, to: number): boolean =>
    from !== node && to !== node && component[from] === component[to];
  return flows.filter(
    ({ leg, from, receivers }) =>
      leg.interface?.device !== on && receivers.some((one) => one.interface.device !== on && lives(from, one.node)),
  ).length;
}

function isSwitch(box: object): box is Switch {
  return 'ports' in box;
}
