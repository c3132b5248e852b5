/**
 * What the network does with a plan. Each part is a pure function of the plan, computed on first use and shared by
 * all rules.
 */
import type { HouseGroups, Leg, Plan } from '../plan/types.js';
import { buildAddressing, type Addressing } from './addressing.js';
import { buildDomains, type Domains } from './domains.js';
import { buildGroupIndex, type GroupIndex } from './group-use.js';
import { buildMisplaced, type Misplacement } from './group-standing.js';
import { buildHeldTo } from './house-groups.js';
import { buildOwners, type Owners } from './owners.js';
import { buildFailures, type Failures } from './network/failures.js';
import { buildNetwork, type Network } from './network/flows.js';
import { buildLoad, type Load } from './network/load.js';
import { createRates, type Rates } from './rates.js';
import { buildReception, type Reception } from './reception.js';
import { buildUnicastReach, type UnicastReach } from './unicast-reach.js';

export interface Model {
  readonly plan: Plan;
  /** Who hears whom: switched domains and the reachability domains that multicast routing makes of them. */
  readonly domains: Domains;
  /** Which senders and receivers use which group, per reachability domain. */
  readonly groups: GroupIndex;
  /** Sender legs whose group is not one for media, by the reason. */
  readonly misplaced: ReadonlyMap<Misplacement, readonly Leg[]>;
  /** The house's promises about groups that a leg is held to. */
  readonly heldTo: (leg: Leg) => readonly HouseGroups[];
  /** Who owns which unicast address and MAC. */
  readonly owners: Owners;
  /** Every unicast address that is held, and how the addresses of a VLAN fit its subnets. */
  readonly addressing: Addressing;
  /** Which VLANs unicast packets can pass between. */
  readonly unicastReach: UnicastReach;
  /** Which sender legs a receiver leg hears, and who joins a group. */
  readonly reception: Reception;
  /** Which links and ports carry each stream. */
  readonly network: Network;
  /** What each stream leg sends in a second. */
  readonly rates: Rates;
  /** What each link and host port carries while nothing has failed. */
  readonly load: Load;
  /** What each single failure takes off air. */
  readonly failures: Failures;
}

export function createModel(plan: Plan): Model {
  const domains = once(() => buildDomains(plan));
  const groups = once(() => buildGroupIndex(plan, domains()));
  const misplaced = once(() => buildMisplaced(plan));
  const heldTo = once(() => buildHeldTo(plan));
  const owners = once(() => buildOwners(plan));
  const addressing = once(() => buildAddressing(plan));
  const unicastReach = once(() => buildUnicastReach(plan, domains(), owners()));
  const reception = once(() => buildReception(plan, domains(), groups()));
  const network = once(() => buildNetwork(plan, domains(), reception()));
  const rates = once(createRates);
  const load = once(() => buildLoad(plan, network(), ({ leg }) => rates().onWire(leg)));
  const failures = once(() => buildFailures(plan, network()));
  return {
    plan,
    get domains() {
      return domains();
    },
    get groups() {
      return groups();
    },
    get misplaced() {
      return misplaced();
    },
    get heldTo() {
      return heldTo();
    },
    get owners() {
      return owners();
    },
    get addressing() {
      return addressing();
    },
    get unicastReach() {
      return unicastReach();
    },
    get reception() {
      return reception();
    },
    get network() {
      return network();
    },
    get rates() {
      return rates();
    },
    get load() {
      return load();
    },
    get failures() {
      return failures();
    },
  };
}

function once<T>(build: () => T): () => T {
  let made: { readonly value: T } | undefined;
  return () => (made ??= { value: build() }).value;
}
