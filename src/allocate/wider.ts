/** Blocks as text, and wider ones around them. */
import { formatPrefix } from '../values/address.js';
import type { Demand, NetworkDemand } from './demand.js';
import type { Block } from './kept.js';
import type { RequestChange } from './refusal.js';

/** `10.9.0.0/26`. */
export function cidr({ first, length }: Block): string {
  return formatPrefix({ address: first, network: first, length });
}

/** The block of so many bits around another one. */
export function widened({ first }: Block, bits: number): string {
  return cidr({ first: Math.floor(first / 2 ** bits) * 2 ** bits, length: 32 - bits });
}

/** Wider blocks for a network and its twin at once: one without the other is of no use. */
export function bothWider(
  { request }: Demand,
  network: NetworkDemand,
  twin: NetworkDemand,
  key: 'addresses' | 'groups',
  text: string,
  other: string,
): RequestChange {
  return {
    path: ['networks'],
    value: request.networks.map((raw, index) =>
      index === network.index ? { ...raw, [key]: text } : index === twin.index ? { ...raw, [key]: other } : raw,
    ),
    words: `write \`${key}: ${text}\` for ${network.raw.name} and \`${key}: ${other}\` for ${twin.raw.name}`,
  };
}
