/** Taking something away from a rig: in the lab, and in the plan. */
import type { Plan } from '../../src/plan/types.js';
import { bridgeName } from './bridges.js';
import type { ShortHost, ShortReceiver, ShortRig, ShortVlan } from './rigs.js';
import type { StepSpec } from './spec.js';

export type Loss =
  | { readonly kind: 'link'; readonly between: readonly [string, string] }
  | { readonly kind: 'switch'; readonly name: string }
  /** It queries no more; what else it does goes on. */
  | { readonly kind: 'querier'; readonly vlan: string; readonly on: string };

/** Everything that can be taken away. A rig without any switch is none. */
export function lossesOf({ vlans, switches, links }: ShortRig): readonly Loss[] {
  const queriers = Object.entries(vlans).flatMap(([vlan, { queriers = [], mld, routers = [] }]) =>
    [...new Set([...queriers, ...(mld?.queriers ?? [])].map(({ on }) => on))]
      // A router queries as long as it routes.
      .filter((on) => !routers.includes(on))
      .map((on): Loss => ({ kind: 'querier', vlan, on })),
  );
  return [
    ...links.map(({ between }): Loss => ({ kind: 'link', between })),
    ...(switches.length > 1 ? switches.map((name): Loss => ({ kind: 'switch', name })) : []),
    ...queriers,
  ];
}

export function lossSteps(rig: ShortRig, plan: Plan, loss: Loss): readonly StepSpec[] {
  if (loss.kind === 'link') return [{ do: 'cut', link: loss.between.join('-') }];
  if (loss.kind === 'switch') return [{ do: 'off', switch: loss.name }];
  if (rig.hosts.some(({ name }) => name === loss.on)) return [{ do: 'silence', host: loss.on }];
  const vlan = plan.vlans.find(({ name }) => name === loss.vlan);
  if (vlan === undefined) throw new Error(`no VLAN ${loss.vlan}`);
  return [{ do: 'bridge', switch: loss.on, name: bridgeName(plan, vlan), options: 'mcast_querier 0' }];
}

/** The rig without it. Sockets that joined a group stay joined, whether its sender is still there or not. */
export function without(rig: ShortRig, loss: Loss): ShortRig {
  if (loss.kind === 'link') {
    const gone = loss.between.join('-');
    return { ...rig, links: rig.links.map((one) => (one.between.join('-') === gone ? { ...one, cut: true } : one)) };
  }
  if (loss.kind === 'querier') {
    const vlan = rig.vlans[loss.vlan];
    if (vlan === undefined) throw new Error(`no VLAN ${loss.vlan}`);
    return { ...rig, vlans: { ...rig.vlans, [loss.vlan]: silenced(vlan, (on) => on === loss.on) } };
  }
  const lost = new Map(rig.hosts.filter(({ at }) => at === loss.name).map((one) => [one.name, one]));
  const isGone = (on: string): boolean => on === loss.name || lost.has(on);
  return {
    ...rig,
    switches: rig.switches.filter((name) => name !== loss.name),
    links: rig.links.map((one) => (one.between.includes(loss.name) ? { ...one, cut: true } : one)),
    hosts: rig.hosts
      .filter(({ name }) => !lost.has(name))
      .map((host) => ({ ...host, receives: (host.receives ?? []).map((one) => stillJoined(one, lost)) })),
    vlans: Object.fromEntries(Object.entries(rig.vlans).map(([name, vlan]) => [name, silenced(vlan, isGone)])),
  };
}

function silenced(vlan: ShortVlan, isGone: (on: string) => boolean): ShortVlan {
  const { routers, queriers = [], mld, ...rest } = vlan;
  const left = routers?.filter((one) => !isGone(one)) ?? [];
  return {
    ...rest,
    queriers: queriers.filter(({ on }) => !isGone(on)),
    ...(left.length === 0 ? {} : { routers: left }),
    ...(mld === undefined ? {} : { mld: { ...mld, queriers: (mld.queriers ?? []).filter(({ on }) => !isGone(on)) } }),
  };
}

/** Who takes a stream that is gone joins its group as before. */
function stillJoined(receiver: ShortReceiver, lost: ReadonlyMap<string, ShortHost>): ShortReceiver {
  const [from = '', group = ''] = receiver.takes?.split('/') ?? [];
  const host = lost.get(from);
  if (host === undefined) return receiver;
  const source = group.includes(':') ? host.address6 : host.address;
  return receiver.join === 'stated' && source !== undefined
    ? { group, source, join: 'stated' }
    : { group, join: 'any' };
}
