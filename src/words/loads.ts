/** What fills a link, and what would take enough off it, in words. */
import { groupBy } from '../collections/group-by.js';
import type { NonEmpty } from '../collections/non-empty.js';
import { byLabel } from '../collections/order.js';
import type { FloodReason, Relief, Room } from '../model/network/index.js';
import { linkLabel } from '../model/vlans/index.js';
import type { Device, Link, Port, Switch } from '../plan/types.js';
import { formatRate } from '../values/quantity.js';
import { chosenWords, type ChosenFacts } from './chosen.js';
import { counted } from './counts.js';
import { listNames } from './lists.js';
import { portRanges } from './port-ranges.js';
import { rateWords, shareWords, type NamedRate } from './rates.js';

/** What a link, or an aggregate, carries in its busier direction. */
export interface CarriedFacts {
  /** One link, or every member of an aggregate. */
  readonly links: NonEmpty<Link>;
  /** Of all members together. */
  readonly rateBps: number;
  readonly loadBps: number;
  /** Streams of unknown rate pass too. */
  readonly atLeast: boolean;
}

/** A link too full, taken apart. */
export interface FullLinkFacts extends CarriedFacts {
  /** Names of the switches at the ends of the busier direction. */
  readonly from: string;
  readonly to: string;
  /** Where the way past the link depends on the spanning tree: the switch taken for its root. */
  readonly root: Switch | undefined;
  readonly burden: BurdenFacts;
  /** What inputs choose of it; undefined where they choose nothing. */
  readonly chosen: ChosenFacts | undefined;
  readonly relief: Relief;
  readonly room: Room;
}

/** The load by its reasons. */
export interface BurdenFacts {
  readonly streams: number;
  readonly senders: readonly NamedRate[];
  /** Only because these query or route. */
  readonly towardsBps: number;
  readonly towards: readonly (Switch | Device)[];
  /** Only because it is flooded. */
  readonly floodedBps: number;
  readonly floodedFor: readonly FloodReason[];
  /** Only because people bound it to the port, or made that a router port. */
  readonly byHandBps: number;
  readonly byHandAt: readonly Switch[];
}

/** What one link of several, or one port, can carry: the note of its place. */
export interface RateNote {
  readonly rateBps: number;
}

/** `link R01: 10 Gbit/s`. */
export function rateLabel(name: string, { rateBps }: RateNote): string {
  return `${name}: ${formatRate(rateBps)}`;
}

/** `core (1 and 49)`, `leaf (1 to 4)`: ports by their switch, in the order in which the switches come first. */
export function portsBySwitch(ports: readonly Port[]): readonly string[] {
  return [...groupBy(ports, (port) => port.switch)].map(
    ([{ name }, own]) => `${name} (${portRanges(own.map((port) => port.name))})`,
  );
}

/** `link R02`, or `aggregate spine (R02 and R03)`. */
export function carrierWords(links: NonEmpty<Link>): string {
  const [first] = links;
  if (links.length === 1) return `link ${linkLabel(first)}`;
  return `aggregate ${first.aggregate ?? ''} (${listNames(byLabel(links.map(linkLabel), (name) => name))})`;
}

/** `carries 11.15 Gbit/s from core to leaf`, with the root the way depends on. */
export function loadWords({ loadBps, atLeast, from, to, root }: FullLinkFacts): string {
  const loop = root === undefined ? '' : `, if ${root.name} is the root of the spanning tree`;
  return `carries ${atLeastWords(atLeast)}${formatRate(loadBps)} from ${from} to ${to}${loop}`;
}

/** `at least ` before a load that streams of unknown rate add to. */
export function atLeastWords(atLeast: boolean): string {
  return atLeast ? 'at least ' : '';
}

/** `111.5 %`: how full it is. */
export function fillWords({ loadBps, rateBps }: CarriedFacts): string {
  return shareWords(loadBps, rateBps);
}

/** What fills the link: its largest senders, and what is on it only because of a querier, a router or flooding. */
export function burdenWords(facts: BurdenFacts, chosen: ChosenFacts | undefined): string {
  const { streams, senders, towardsBps, towards, floodedBps, floodedFor, byHandBps, byHandAt } = facts;
  const parts = streams === 0 ? [] : [`${counted(streams, 'stream')} (${rateWords(senders)})`];
  if (chosen !== undefined) parts.push(chosenWords(chosen));
  if (towardsBps > 0)
    parts.push(
      `${formatRate(towardsBps)} of it only because ${listNames(towards.map(({ name }) => name))}, which queries or routes, gets every stream`,
    );
  if (floodedBps > 0)
    parts.push(`${formatRate(floodedBps)} of it only because it is flooded (${listNames(floodedFor.map(floodWords))})`);
  if (byHandBps > 0)
    parts.push(
      `${formatRate(byHandBps)} of it only because the port is set to carry it at ${listNames(byHandAt.map(({ name }) => name))}`,
    );
  return parts.join('; ');
}

/** Why a stream is flooded, for people. Sorted by their names, reasons are sorted by their words too. */
export function floodWords(reason: FloodReason): string {
  return FLOOD_WORDS[reason];
}

const FLOOD_WORDS: Readonly<Record<FloodReason, string>> = {
  'snooping off': 'snooping is off',
  'flooded address': 'groups with an address that switches always flood',
  'no querier': 'no querier',
  'silent receiver': 'receivers that never speak',
  unregistered: 'streams nobody joined go everywhere',
};

/** What to do about what does not belong on the link. */
export function strayWords({ form, leftBps }: StrayRelief): string {
  const then = `the link then carries ${formatRate(leftBps)}`;
  if (form === 'unbind') return `unbind from the port what nobody behind it takes: ${then}`;
  return form === 'stop flooding'
    ? `stop the flooding: ${then}`
    : `let a switch on the other side of this link query and route, nearer to the senders: ${then}`;
}

export type StrayRelief = Exclude<Relief, { readonly form: 'carry less' }>;

/** `give it more room, 12.38 Gbit/s or more: 25 Gbit/s is the next common port rate`. */
export function roomWords({ neededBps, members, memberBps, enough, nextPortBps }: Room): string {
  const room = `give it more room, ${formatRate(neededBps)} or more`;
  if (members === 1)
    return nextPortBps === undefined
      ? `${room}, which takes an aggregate`
      : `${room}: ${formatRate(nextPortBps)} is the next common port rate`;
  return `${room}: ${counted(enough, 'member')} of ${formatRate(memberBps)}${nextPortBps === undefined ? '' : `, or ${members} of ${formatRate(nextPortBps)}`}`;
}
