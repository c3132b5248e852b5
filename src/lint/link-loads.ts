/** Findings on links that carry too much, alike for the crew's own links and for circuits. */
import { formatRate } from '../values/quantity.js';
import { burdensOf, type Burden } from '../model/network/burden.js';
import { linkUses, type LinkUse } from '../model/network/link-use.js';
import type { Model } from '../model/model.js';
import { isCircuit, linkEnds, linkLabel } from '../model/vlans/trunks.js';
import type { Plan } from '../plan/types.js';
import { byLabel } from '../collections/order.js';
import { inRig } from './leg-sets.js';
import { rateWords } from '../words/rates.js';
import { listNames } from '../words/lists.js';

/** A link fuller than it should be. */
export interface FullLink {
  readonly use: LinkUse;
  readonly burden: Burden;
}

/** Links, or circuits, that carry more than a percentage of their rate, by their names. */
export function fullLinks(plan: Plan, model: Model, percent: number, circuits: boolean): readonly FullLink[] {
  if (model.headroom.linksHoldAll(percent)) return [];
  const full = linkUses(plan, model.network, model.load).filter(
    ({ links, loadBps, rateBps }) => links.some(isCircuit) === circuits && loadBps > (rateBps * percent) / 100,
  );
  const burdens = burdensOf(
    model.network,
    ({ leg }) => model.rates.onWire(leg),
    new Map(full.map((use) => [use, use.spans])),
  );
  return byLabel(full, useSubject).flatMap((use) => {
    const burden = burdens.get(use);
    return burden === undefined ? [] : [{ use, burden }];
  });
}

/** `link R02`, or `aggregate spine (R02 and R03)`. */
export function useLabel({ links }: LinkUse): string {
  const [first] = links;
  if (links.length === 1) return `link ${linkLabel(first)}`;
  return `aggregate ${first.aggregate ?? ''} (${listNames(byLabel(links.map(linkLabel), (name) => name))})`;
}

/** Stable key of a link, by its own name or else its two ports, or of an aggregate between two switches. */
export function useSubject({ links }: LinkUse): string {
  const [first] = links;
  if (links.length === 1 || first.aggregate === undefined)
    return first.name === undefined ? linkEnds(first) : `link ${first.name}${inRig(first.rig)}`;
  return `aggregate ${first.aggregate} between ${listNames(
    byLabel(
      first.ends.map((end) => end.switch?.name ?? end.text),
      (name) => name,
    ),
  )}`;
}

/** `core-red to leaf-red`: the busier direction. */
export function useDirection({ links: [first], from }: LinkUse): string {
  const [a, b] = first.ends.map((end) => end.switch?.name ?? end.text);
  return from === 0 ? `${a ?? ''} to ${b ?? ''}` : `${b ?? ''} to ${a ?? ''}`;
}

/** What fills the link: its largest senders, and what is on it only because of a querier, a router or flooding. */
export function burdenWords(burden: Burden): string {
  const { towardsBps, towards, floodedBps, floodedFor, senders, streams } = burden;
  const parts = [`${streams} ${streams === 1 ? 'stream' : 'streams'} (${rateWords(senders)})`];
  if (towardsBps > 0) {
    parts.push(
      `${formatRate(towardsBps)} of it only because ${listNames(
        byLabel(
          [...towards].map(({ name }) => name),
          (name) => name,
        ),
      )}, which queries or routes, gets every stream`,
    );
  }
  if (floodedBps > 0)
    parts.push(
      `${formatRate(floodedBps)} of it only because it is flooded (${listNames([...floodedFor].map(floodWords).sort())})`,
    );
  return parts.join('; ');
}

/** Why a stream is flooded, for people. */
export function floodWords(reason: 'snooping off' | 'flooded address' | 'no querier' | 'unregistered'): string {
  return FLOOD_WORDS[reason];
}

const FLOOD_WORDS = {
  'snooping off': 'snooping is off',
  'flooded address': 'groups with an address that switches always flood',
  'no querier': 'no querier',
  unregistered: 'streams nobody joined go everywhere',
} as const;

/** What to do about a full link of the crew's own: what does not belong there goes first. */
export function reliefWords(full: FullLink, percent: number): string {
  return (
    strayWords(full, percent) ??
    `take ${formatRate(excessBps(full, percent))} off it: move receivers or senders to the other side, or use a smaller format`
  );
}

/** By how much a link is fuller than it should be. */
export function excessBps({ use }: FullLink, percent: number): number {
  return use.loadBps - (use.rateBps * percent) / 100;
}

/** What to do where the link holds all that belongs there; undefined where it does not. */
export function strayWords({ use, burden }: FullLink, percent: number): string | undefined {
  const limit = (use.rateBps * percent) / 100;
  const wanted = use.loadBps - burden.floodedBps;
  if (burden.floodedBps > 0 && wanted <= limit) return `stop the flooding: the link then carries ${formatRate(wanted)}`;
  if (burden.towardsBps > 0 && wanted - burden.towardsBps <= limit) {
    return `let a switch on the other side of this link query and route, nearer to the senders: the link then carries ${formatRate(wanted - burden.towardsBps)}`;
  }
  return undefined;
}

/** `give it more room, 12.38 Gbit/s or more: 25 Gbit/s is the next common port rate`. */
export function roomWords({ links, loadBps, rateBps }: LinkUse, percent: number): string {
  const neededBps = (loadBps * 100) / percent;
  const members = links.length;
  const next = nextPortRate(neededBps / members);
  const room = `give it more room, ${formatRate(neededBps)} or more`;
  if (members === 1)
    return next === undefined
      ? `${room}, which takes an aggregate`
      : `${room}: ${formatRate(next)} is the next common port rate`;
  const count = Math.ceil((neededBps * members) / rateBps);
  return `${room}: ${count} members of ${formatRate(rateBps / members)}${next === undefined ? '' : `, or ${members} of ${formatRate(next)}`}`;
}

/** The slowest common port rate that holds this; undefined above the fastest. */
export function nextPortRate(neededBps: number): number | undefined {
  return PORT_RATES_BPS.find((rate) => rate >= neededBps);
}

/** Common rates of Ethernet ports (IEEE 802.3-2022). */
const PORT_RATES_BPS = [1e9, 10e9, 25e9, 40e9, 100e9, 200e9, 400e9];

/** Said where the way depends on the spanning tree. */
export function loopWords({ looped, spans }: LinkUse): string {
  if (!looped) return '';
  const [span] = spans.filter(({ forwarding }) => forwarding.segment.looped);
  const root = span?.forwarding.segment.nodes[span.forwarding.tree.order[0] ?? -1];
  return `, if ${root?.name ?? 'the first switch'} is the root of the spanning tree`;
}
