/** One verdict for every leg of every receiver: one pass over them, a byte each. */
import { append } from '../../collections/group-by.js';
import type { Leg, Plan, Receiver, ReceiverLeg } from '../../plan/types.js';
import { isSilent, type Rates, type Reception, unusualLegs } from '../streams/index.js';
import { type Network, unicastStages } from '../network/index.js';
import type { Domains } from '../vlans/index.js';
import { DELIVERED, DENIED, denialOf, type Denial, type Fate, type Lack, LACKING, lackOf } from './fates.js';
import type { Judge } from './judge.js';
import type { Taker } from './why.js';

/** The parts of the model that verdicts on all receivers ask besides the judge. */
export interface VerdictModel {
  readonly plan: Plan;
  readonly reception: Reception;
  readonly domains: Domains;
  readonly rates: Rates;
  readonly network: Network;
}

export interface Verdicts {
  /** The fates of `plan.receiverLegs`, in their order. */
  readonly fates: Uint8Array;
  /** Legs of receivers; a receiver of which not even a leg is known counts as one. */
  readonly legs: number;
  readonly delivered: number;
  /** In plan order. */
  readonly notDelivered: readonly Denied[];
  /** By the fact that lacks. */
  readonly notFollowed: ReadonlyMap<Lack, readonly Taker[]>;
  /** Sender legs whose rate the plan does not give: every load is that much too small. */
  readonly unrated: number;
  /** Legs to one address that nobody follows to their end, receivers or not: loads beyond are too small by them. */
  readonly openEnded: number;
}

/** A receiver leg that does not get what it takes. */
export interface Denied {
  readonly receiverLeg: ReceiverLeg;
  /** What it takes: of several legs it hears, one that comes nearest to it; undefined where it hears none. */
  readonly leg: Leg | undefined;
  readonly fate: Fate;
  readonly denial: Denial;
}

export function buildVerdicts(model: VerdictModel, judge: Judge): Verdicts {
  const { plan, rates } = model;
  const { receiverLegs } = plan;
  const fates = new Uint8Array(receiverLegs.length);
  const notDelivered: Denied[] = [];
  const notFollowed = new Map<Lack, Taker[]>();
  let delivered = 0;
  for (let index = 0; index < receiverLegs.length; index++) {
    const receiverLeg = receiverLegs[index];
    if (receiverLeg === undefined) continue;
    const { takes } = receiverLeg;
    const fate = takes === undefined ? fateOfJoin(receiverLeg, model, judge) : fateOf(takes, receiverLeg, rates, judge);
    fates[index] = fate;
    if (fate === DELIVERED) {
      delivered++;
      continue;
    }
    const lack = lackOf(fate);
    const denial = denialOf(fate);
    if (lack !== undefined) append(notFollowed, lack, { receiver: receiverLeg.receiver, receiverLeg });
    if (denial !== undefined)
      notDelivered.push({ receiverLeg, leg: takes ?? nearest(receiverLeg, fate, model, judge), fate, denial });
  }
  let legless = 0;
  for (const receiver of plan.receivers) {
    if (receiver.legs.length > 0) continue;
    legless++;
    append(notFollowed, lackOfWhole(receiver), { receiver, receiverLeg: undefined });
  }
  return {
    fates,
    legs: receiverLegs.length + legless,
    delivered,
    notDelivered,
    notFollowed,
    unrated: unratedLegs(plan, rates),
    openEnded: openEnded(plan, model.network),
  };
}

/** A way is followed to its end only where it is known what is carried on it. */
function fateOf(leg: Leg, taker: ReceiverLeg, rates: Rates, judge: Judge): Fate {
  const fate = judge(leg, taker);
  return fate === DELIVERED && rates.onWire(leg) === undefined ? LACKING.rate : fate;
}

/** A leg that names a group and no stream gets what comes nearest to it. */
function fateOfJoin(taker: ReceiverLeg, { reception, domains, rates }: VerdictModel, judge: Judge): Fate {
  if (taker.group === undefined) return taker.receiver.takes === undefined ? LACKING.stream : LACKING['sender leg'];
  let best: Fate | undefined;
  for (const leg of reception.heard(taker)) {
    const fate = fateOf(leg, taker, rates, judge);
    if (best === undefined || fate < best) best = fate;
    if (best === DELIVERED) break;
  }
  return best ?? (isSilent(taker, reception, domains) ? DENIED['nobody sends'] : LACKING.senders);
}

function nearest(taker: ReceiverLeg, fate: Fate, { reception }: VerdictModel, judge: Judge): Leg | undefined {
  return reception.heard(taker).find((leg) => judge(leg, taker) === fate);
}

function lackOfWhole({ takes }: Receiver): Lack {
  return takes === undefined ? 'stream' : 'receiver interface';
}

/** Without those that are not sent at all, or of which not even the sender's port is known. */
function openEnded(plan: Plan, network: Network): number {
  let count = 0;
  for (const leg of unusualLegs(plan).groupless) {
    const route = network.routeOf(leg);
    if (route?.sent !== true) continue;
    const stages = unicastStages(leg, route, network.forwardingAt);
    if (stages[0]?.from === undefined) continue;
    const known = stages.every(({ from, to }) => from !== undefined && to !== undefined);
    if (route.stop !== undefined || !known) count++;
  }
  return count;
}

function unratedLegs(plan: Plan, rates: Rates): number {
  let count = 0;
  for (const { leg, destined } of unusualLegs(plan).makes) if (rates.onWire(leg) === undefined) count += destined;
  return count;
}
