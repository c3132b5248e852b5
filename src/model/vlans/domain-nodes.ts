/** Every place of the plan's network where something can stand, before any two are joined. */
import { kept } from '../../collections/kept.js';
import { byCodeUnit } from '../../collections/order.js';
import { UnionFind } from '../../collections/union-find.js';
import type { Interface, Network, Plan, Switch, Vlan } from '../../plan/types.js';
import type { Attached } from './domain.js';
import { saysNothing } from './link-vlans.js';
import type { StatedVlans } from './stated-vlans.js';

/** A VLAN as a whole or on one switch, a network without known VLANs, a path of which nothing is known, a router. */
export interface Node {
  readonly vlan?: Vlan;
  readonly switch?: Switch;
  readonly network?: Network;
  readonly path?: number;
}

/** Every place of the plan's network where something can stand. */
export class Nodes {
  readonly #whole: ReadonlySet<Vlan>;
  /** Switches between which any VLAN may pass stand for one. */
  readonly #clusters: UnionFind<Switch>;
  readonly #onSwitch = new Map<Switch, Map<Vlan, Node>>();
  readonly #ofVlan = new Map<Vlan, Node[]>();
  readonly #ofNetwork = new Map<Network, Node>();
  readonly #paths = new Map<number, Node>();
  readonly #onlyVlan: ReadonlyMap<Network, Vlan | undefined>;
  readonly #interfaces: readonly Interface[];
  #hosts: ReadonlyMap<Node, number> | undefined;
  readonly #likely = new Map<Vlan, Node>();

  constructor(plan: Plan, stated: StatedVlans) {
    this.#onlyVlan = onlyVlans(plan);
    this.#whole = wholeVlans(plan, stated);
    this.#clusters = clusters(plan);
    this.#interfaces = plan.interfaces;
    for (const vlan of plan.vlans) if (this.#whole.has(vlan)) this.#ofVlan.set(vlan, [{ vlan }]);
    for (const one of plan.switches) for (const vlan of stated.on(one)) this.on(one, vlan);
    for (const [port, vlan] of stated.patched) this.on(port.switch, vlan);
    for (const vlan of plan.vlans) if (!this.#ofVlan.has(vlan)) this.#ofVlan.set(vlan, [{ vlan }]);
    for (const network of plan.networks) this.#ofNetwork.set(network, { network });
  }

  all(): readonly Node[] {
    return [...[...this.#ofVlan.values()].flat(), ...this.#ofNetwork.values(), ...this.#paths.values()];
  }

  /** The switch that stands for all between which any VLAN may pass. */
  clusterOf(one: Switch): Switch {
    return this.#clusters.find(one);
  }

  of(attached: Attached): Node {
    const { network } = attached;
    const vlan = attached.vlan ?? (network === undefined ? undefined : this.#onlyVlan.get(network));
    if (vlan !== undefined) return this.knownPlace(attached) ?? this.likely(vlan);
    if (network !== undefined) return kept(this.#ofNetwork, network, () => ({ network }));
    const path = attached.index ?? 0;
    return kept(this.#paths, path, () => ({ path }));
  }

  knownPlace(attached: Attached): Node | undefined {
    const port = attached.interface?.port ?? (typeof attached.port === 'object' ? attached.port : undefined);
    return attached.vlan === undefined || port === undefined ? undefined : this.known(port.switch, attached.vlan);
  }

  /** Where a VLAN most likely is: its only place, or the one of several with the most hosts. */
  likely(vlan: Vlan): Node {
    return kept(this.#likely, vlan, () => {
      const places = this.ofVlan(vlan);
      if (places.length < 2) return places[0] ?? { vlan };
      const hosts = (this.#hosts ??= this.hostsOf());
      const most = Math.max(...places.map((node) => hosts.get(node) ?? 0));
      const best = places.filter((node) => (hosts.get(node) ?? 0) === most);
      return best.toSorted((a, b) => byCodeUnit(a.switch?.name ?? '', b.switch?.name ?? ''))[0] ?? { vlan };
    });
  }

  /** How many interfaces are known to be where: counted once somebody asks for the likely one of several places. */
  hostsOf(): ReadonlyMap<Node, number> {
    const hosts = new Map<Node, number>();
    for (const { vlan, port } of this.#interfaces) {
      const node = vlan === undefined || port === undefined ? undefined : this.known(port.switch, vlan);
      if (node !== undefined) hosts.set(node, (hosts.get(node) ?? 0) + 1);
    }
    return hosts;
  }

  ofVlan(vlan: Vlan): readonly Node[] {
    return this.#ofVlan.get(vlan) ?? [];
  }

  known(owner: Switch, vlan: Vlan): Node | undefined {
    return this.#whole.has(vlan) ? this.likely(vlan) : this.#onSwitch.get(this.#clusters.find(owner))?.get(vlan);
  }

  /** A VLAN on a switch; from now on it is there. */
  on(owner: Switch, vlan: Vlan): Node {
    if (this.#whole.has(vlan)) return this.likely(vlan);
    const byVlan = kept(this.#onSwitch, this.#clusters.find(owner), () => new Map<Vlan, Node>());
    let node = byVlan.get(vlan);
    if (node === undefined) {
      byVlan.set(vlan, (node = { vlan, switch: owner }));
      kept(this.#ofVlan, vlan, (): Node[] => []).push(node);
    }
    return node;
  }
}

/** VLANs taken as one switched domain because the plan does not say enough to tell their parts apart. */
function wholeVlans(plan: Plan, stated: StatedVlans): ReadonlySet<Vlan> {
  const unclear =
    plan.links.length === 0 ||
    plan.links.some((link) => link.ends.some((end) => end.switch === undefined)) ||
    plan.unresolved.some(
      (lost) => lost.wanted.kind === 'vlan' && (lost.by.kind === 'switch' || lost.by.kind === 'link'),
    );
  if (unclear) return new Set(plan.vlans);

  const linked = new Set(plan.links.flatMap((link) => link.ends.map((end) => end.switch)));
  const first = new Map<Vlan, Switch>();
  const spread = new Set<Vlan>();
  const alone = new Set<Vlan>();
  const stand = (one: Switch, vlan: Vlan): void => {
    if (kept(first, vlan, () => one) !== one) spread.add(vlan);
    if (!linked.has(one)) alone.add(vlan);
  };
  for (const one of plan.switches) for (const vlan of stated.on(one)) stand(one, vlan);
  for (const [port, vlan] of stated.patched) stand(port.switch, vlan);
  // How a switch without links hangs on the others is not stated.
  return new Set([...spread].filter((vlan) => alone.has(vlan)));
}

/** The VLAN of each network that has one only: what stands on such a network stands in it. */
function onlyVlans(plan: Plan): ReadonlyMap<Network, Vlan | undefined> {
  const only = new Map<Network, Vlan | undefined>();
  for (const vlan of plan.vlans)
    if (vlan.network !== undefined) only.set(vlan.network, only.has(vlan.network) ? undefined : vlan);
  return only;
}

/** Switches joined by links of whose VLANs nothing is said. */
function clusters(plan: Plan): UnionFind<Switch> {
  const found = new UnionFind<Switch>();
  for (const link of plan.links) {
    const [a, b] = link.ends;
    if (saysNothing(link) && a.switch !== undefined && b.switch !== undefined) found.union(a.switch, b.switch);
  }
  return found;
}
