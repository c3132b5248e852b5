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
 * format a finding calls a slip; what they really send is not known.
 */
export function createRates(isDoubted: (sender: Sender) => boolean): Rates {
  const known = new Map<
    Format,
    Map<number | undefined, { readonly result: RateResult; readonly onWire: FlowRate | undefined }>
  >();
  const find = (leg: Leg): { readonly result: RateResult; readonly onWire: FlowRate | undefined } | undefined => {
    const { format } = leg.sender;
    if (format === undefined || isDoubted(leg.sender)) return undefined;
    let byTime = known.get(format);
    if (byTime === undefined)
      known.set(
        format,
        (byTime = new Map<
          number | undefined,
          { readonly result: RateResult; readonly onWire: FlowRate | undefined }
        >()),
      );
    const { packetTimeNs } = leg;
    let found = byTime.get(packetTimeNs);
    if (found === undefined) {
      const result = streamRate(format, { packetTimeNs });
      byTime.set(
        packetTimeNs,
        (found = { result, onWire: result.rate === undefined ? undefined : wireOf(result.rate) }),
      );
    }
    return found;
  };
  return { of: (leg) => find(leg)?.result, onWire: (leg) => find(leg)?.onWire };
}

function wireOf(rate: StreamRate): FlowRate {
  return { onLink: rate.wireTaggedBps, onPort: rate.wireBps };
}
