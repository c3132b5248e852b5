/** Links that carry more than a share of their rate, and what would bring each below it again. */
import type { Plan, Rig } from '../../plan/types.js';
import type { Rates } from '../streams/index.js';
import { isCircuit } from '../vlans/index.js';
import { burdensOf, bySize, senderName, type Burden } from './burden.js';
import type { Chosen } from './chosen-load.js';
import type { Network } from './flows.js';
import type { Headroom } from './headroom.js';
import { linkUses, type LinkUse } from './link-use.js';
import type { Load } from './load.js';
import type { Unrated } from './unrated.js';
import { nextPortRate } from './port-rates.js';

/** What of the model tells how full links are. */
export interface Carriage {
  readonly network: Network;
  readonly load: Load;
  readonly unrated: Unrated;
  readonly headroom: Headroom;
  readonly rates: Rates;
}

/** A link fuller than it should be. */
export interface FullLink {
  readonly use: LinkUse;
  readonly burden: Burden;
}

/** The links of the crew's own, or the circuits, that carry more than their rig's percentage of their rate, in plan order. */
export function fullLinks(
  plan: Plan,
  carriage: Carriage,
  percentOf: (rig: Rig) => number,
  which: 'own' | 'circuits',
): readonly FullLink[] {
  if (carriage.headroom.linksHoldAll(percentOf)) return [];
  const { network, load, rates } = carriage; // costly to ask for
  const full = linkUses(plan, network, load).filter(
    ({ links, loadBps, rateBps }) =>
      links.some(isCircuit) === (which === 'circuits') && loadBps > (rateBps * percentOf(links[0].rig)) / 100,
  );
  const burdens = burdensOf(network, ({ leg }) => rates.onWire(leg), new Map(full.map((use) => [use, use.spans])));
  return full.flatMap((use) => {
    const burden = burdens.get(use);
    return burden === undefined ? [] : [{ use, burden: withChosen(burden, use.chosen, rates) }];
  });
}

/** Beside what comes anyway, what is chosen in the worst case. */
function withChosen(burden: Burden, chosen: Chosen | undefined, rates: Rates): Burden {
  if (chosen === undefined) return burden;
  const senders = new Map(burden.senders);
  for (const leg of chosen.legs) {
    const name = senderName(leg);
    senders.set(name, (senders.get(name) ?? 0) + (rates.onWire(leg)?.onLink ?? 0));
  }
  return {
    ...burden,
    joinedBps: burden.joinedBps + chosen.bps,
    senders: bySize(senders),
    streams: burden.streams + chosen.legs.length,
  };
}

/**
 * What takes enough off a full link. What does not belong there goes first: flooding, then what only a querier or
 * router gets (RFC 4541 §2.1.2), then what people set; `leftBps` is what the link then carries. Else `excessBps` has to go.
 */
export type Relief =
  | { readonly form: 'stop flooding' | 'query nearer' | 'unbind'; readonly leftBps: number }
  | { readonly form: 'carry less'; readonly excessBps: number };

export function reliefOf({ use: { loadBps, rateBps }, burden }: FullLink, percent: number): Relief {
  const limitBps = (rateBps * percent) / 100;
  const unfloodedBps = loadBps - burden.floodedBps;
  if (burden.floodedBps > 0 && unfloodedBps <= limitBps) return { form: 'stop flooding', leftBps: unfloodedBps };
  const leftBps = unfloodedBps - burden.towardsBps;
  if (burden.towardsBps > 0 && leftBps <= limitBps) return { form: 'query nearer', leftBps };
  const askedBps = leftBps - burden.byHandBps;
  if (burden.byHandBps > 0 && askedBps <= limitBps) return { form: 'unbind', leftBps: askedBps };
  return { form: 'carry less', excessBps: loadBps - limitBps };
}

/** How large a link would have to be. */
export interface Room {
  /** Of all members together. */
  readonly neededBps: number;
  readonly members: number;
  /** What one member carries today. */
  readonly memberBps: number;
  /** So many members of that rate are enough. */
  readonly enough: number;
  /** As many members as today are enough at this common port rate; undefined above the fastest. */
  readonly nextPortBps: number | undefined;
}

/** The room a link needs to hold what it carries within a percentage of its rate. */
export function roomFor({ links, loadBps, rateBps }: LinkUse, percent: number): Room {
  const neededBps = (loadBps * 100) / percent;
  const members = links.length;
  return {
    neededBps,
    members,
    memberBps: rateBps / members,
    enough: Math.ceil((neededBps * members) / rateBps),
    nextPortBps: nextPortRate(neededBps / members),
  };
}
