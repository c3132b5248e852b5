/** Spanning trees that settle anew once something is lost, and how long that takes. */
import { append } from '../../collections/group-by.js';
import type { Link, Switch } from '../../plan/types.js';
import type { Span } from '../../values/span.js';
import type { Network } from './flows.js';
import type { ForwardingSegment } from './ground.js';
import { runsTree, type Gone, type LoopedPart } from './loops.js';
import type { Removal } from './remains.js';

/**
 * What settles the time. `rapid`: all switches run RSTP or MSTP. `old`: all run STP. `mixed`: both are there, and one port
 * of the old kind is enough to wait for. `open`: some switch does not say.
 */
export type TreePace = 'rapid' | 'old' | 'mixed' | 'open';

export interface TreeTurn {
  readonly part: LoopedPart;
  /** Segments whose VLANs the tree carries. */
  readonly grounds: readonly ForwardingSegment[];
  /** Links that were blocked and forward then. */
  readonly opened: readonly Link[];
  readonly pace: TreePace;
  /** Seconds after the loss. */
  readonly span: Span;
}

/** Listening and learning, 15 s each, and before that up to max age, 20 s (IEEE 802.1D-1998 §8.10.2: from memory). */
const OLD: Span = { fromS: 30, toS: 50 };
/** Proposal and agreement where the carrier falls: 10 ms measured, no wait (IEEE 802.1D-2004 §17.3: from memory). */
const RAPID: Span = { fromS: 0, toS: 0 };

export const TREE_SPANS: Readonly<Record<TreePace, Span>> = {
  rapid: RAPID,
  old: OLD,
  mixed: { fromS: RAPID.fromS, toS: OLD.toS },
  open: { fromS: RAPID.fromS, toS: OLD.toS },
};

/** Trees in which a link opens; a loss that only takes links out of a tree is none. */
export function treeTurns(
  { forwardings }: Pick<Network, 'forwardings'>,
  { boxes, links }: Removal,
): readonly TreeTurn[] {
  const gone: Gone = { switches: new Set([...boxes].filter((box) => 'ports' in box)), links };
  const grounds = new Map<LoopedPart, ForwardingSegment[]>();
  for (const forwarding of forwardings) for (const part of forwarding.parts) append(grounds, part, forwarding);
  return [...grounds].flatMap(([part, own]) => {
    const after = part.without(gone);
    const opened = part.bundles.flat().filter((link) => after.forwards(link) && !part.layout.forwards(link));
    if (opened.length === 0) return [];
    const pace = paceOf(part.switches.filter((one) => !gone.switches.has(one)));
    return [{ part, grounds: own, opened, pace, span: TREE_SPANS[pace] }];
  });
}

function paceOf(switches: readonly Switch[]): TreePace {
  const modes = new Set(switches.filter(runsTree).map(({ spanningTree }) => spanningTree?.mode));
  if (modes.has(undefined)) return 'open';
  if (!modes.has('stp')) return 'rapid';
  return modes.size === 1 ? 'old' : 'mixed';
}
