import { kept } from '../../collections/kept.js';
import { streamRate } from '../../media/stream-rate.js';
import type { RateResult, StreamRate } from '../../media/types.js';
import type { Format, Leg, Sender } from '../../plan/types.js';

/** What a stream leg puts on a tagged link and on an untagged host port, in bit/s. */
export interface FlowRate {
  readonly onLink: number;
  readonly onPort: number;
}

export interface Rates {
  /** What one leg sends, or the facts its format lacks; undefined when the stream states no format, or a doubted one. */
  readonly of: (leg: Leg) => RateResult | undefined;
  /** Bit/s on the wire: with a VLAN tag on links, without on host ports. Undefined when not known. */
  readonly onWire: (leg: Leg) => FlowRate | undefined;
}

/**
 * Rates by format and packet time, each computed once: thousands of streams share a few formats. `isDoubted`: senders whose
 * format a finding calls a slip, if any are; what they really send is not known.
 */
export function createRates(isDoubted: ((sender: Sender) => boolean) | undefined): Rates {
  const known = new Map<Format, Map<number | undefined, Known>>();
  let last: { readonly format: Format; readonly timeNs: number | undefined; readonly known: Known } | undefined;
  const find = (leg: Leg): Known | undefined => {
    const { format } = leg.sender;
    if (format === undefined || isDoubted?.(leg.sender) === true) return undefined;
    const timeNs = leg.packetTimeNs;
    if (last !== undefined && last.format === format && last.timeNs === timeNs) return last.known;
    const found = kept(
      kept(known, format, () => new Map<number | undefined, Known>()),
      timeNs,
      () => rateOf(format, timeNs),
    );
    last = { format, timeNs, known: found };
    return found;
  };
  return { of: (leg) => find(leg)?.result, onWire: (leg) => find(leg)?.onWire };
}

interface Known {
  readonly result: RateResult;
  readonly onWire: FlowRate | undefined;
}

function rateOf(format: Format, packetTimeNs: number | undefined): Known {
  const result = streamRate(format, { packetTimeNs });
  return { result, onWire: result.rate === undefined ? undefined : wireOf(result.rate) };
}

function wireOf(rate: StreamRate): FlowRate {
  return { onLink: rate.wireTaggedBps, onPort: rate.wireBps };
}
