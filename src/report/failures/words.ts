/** Words of the reports on failures. */
import type { StreamHit, Unjudged, UnjudgedWhy } from '../../model/explain/index.js';
import { writePlace } from '../../words/network.js';

/** What could not be judged, and why. */
export function unjudgedWhat({ side, lacks }: UnjudgedWhy): string {
  if (lacks === 'way') return 'nothing in the plan joins sender and receiver';
  if (lacks === 'query') return "switches snoop and no query comes to the receiver's switch: off air already";
  if (lacks === 'stream') return 'a receiver names a group and not the stream it takes';
  return `the ${lacks} of the ${side} is not known`;
}

/** What to write so that it can be judged. */
export function unjudgedWrite({ lacks }: UnjudgedWhy): string {
  if (lacks === 'way') return 'add the `links` between their switches, or the `routing` between their VLANs';
  if (lacks === 'query')
    return 'plan a querier where the receiver stands: `igmp: {querier: [{on: SWITCH, address: ADDRESS}]}`';
  if (lacks === 'stream') return 'give the receiver `takes: device/sender`';
  return writePlace(lacks);
}

/** Streams concerned, those judged in part after the others. */
export function unjudgedStreams({ whole, inPart }: Unjudged): {
  readonly whole: readonly string[];
  readonly inPart: readonly string[];
} {
  return { whole: whole.map((sender) => sender.label), inPart: inPart.map((sender) => sender.label) };
}

/** Names of streams. */
export function streamNames(hits: readonly StreamHit[]): readonly string[] {
  return hits.map((hit) => hit.sender.label);
}
