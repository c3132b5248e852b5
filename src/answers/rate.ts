/** What does one stream of a format put on the wire, and how many fit a port? */
import { codingNamed } from '../media/codings/index.js';
import { ETHERNET_MTU_OCTETS } from '../media/packet.js';
import { parseFormat } from '../media/parse-format.js';
import { HEADROOM_PERCENT, PORT_SPEEDS, streamsPerPort } from '../media/port-fit.js';
import { streamRate } from '../media/stream-rate.js';
import type { StreamRate } from '../media/types.js';

export interface RateResult {
  /** The format as it was said. */
  readonly said: string;
  readonly rate: StreamRate;
  /** True where SDP states the rate of the stream, as `b=AS`. */
  readonly statesRate: boolean;
  /** What was taken as so and not said. */
  readonly assumptions: readonly string[];
  /** Part of a port that is kept free. */
  readonly headroomPercent: number;
  /** True where nobody said how much to keep free. */
  readonly headroomAssumed: boolean;
  /** How many such streams a port of each speed carries. */
  readonly ports: readonly { readonly name: string; readonly streams: number }[];
  /** The largest IP packet that common Ethernet carries. */
  readonly ethernetOctets: number;
}

/** Why there is no rate: words that say no format, or facts that are missing. */
export type NoRate = { readonly problem: string } | { readonly missing: readonly string[] };

export function rateFormat(said: string, headroomPercent?: number): RateResult | NoRate {
  const format = parseFormat(said);
  if ('problem' in format) return { problem: format.problem };
  const { rate, missing } = streamRate(format.format, format.options);
  if (rate === undefined) return { missing };
  const headroom = headroomPercent ?? HEADROOM_PERCENT;
  return {
    said,
    rate,
    statesRate: codingNamed(format.format.coding)?.sdp?.states.includes('rate') === true,
    assumptions: [...format.assumptions, ...rate.assumptions],
    headroomPercent: headroom,
    headroomAssumed: headroomPercent === undefined,
    ports: PORT_SPEEDS.map(({ name, rateBps }) => ({ name, streams: streamsPerPort(rate, rateBps, headroom) })),
    ethernetOctets: ETHERNET_MTU_OCTETS,
  };
}
