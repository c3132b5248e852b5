/** Where streams of unknown rate pass: what such a link or port carries is at least what its load says. */
import type { Link, Plan, Port } from '../../plan/types.js';
import type { FlowRate } from '../streams/index.js';
import type { Network } from './flows.js';
import { buildLoad, type Load, type RateOf } from './load.js';

export interface Unrated {
  /** In either direction. */
  readonly onLink: (link: Link) => boolean;
  readonly toHost: (port: Port) => boolean;
  readonly fromHost: (port: Port) => boolean;
}

/** Every stream whose rate is not known goes the way it would with one: counted in place of bits. */
export function buildUnrated(plan: Plan, network: Network, rateOf: RateOf, load: Load): Unrated {
  if (load.unrated === 0) return NONE;
  const { links, ports } = buildLoad(plan, network, (flow) => (rateOf(flow) === undefined ? ONE : undefined));
  return {
    onLink: (link) => {
      const both = links.get(link);
      return both !== undefined && both.there + both.back > LEAST;
    },
    toHost: (port) => (ports.get(port)?.toHost ?? 0) > LEAST,
    fromHost: (port) => (ports.get(port)?.fromHost ?? 0) > LEAST,
  };
}

const NONE: Unrated = { onLink: () => false, toHost: () => false, fromHost: () => false };

const ONE: FlowRate = { onLink: 1, onPort: 1 };

/** Below the share of one stream on one of many members, above what sums of such shares are wrong by. */
const LEAST = 1e-6;
