/** How rigs are joined: which VLAN entries become one VLAN, which networks meet, which ports the tie links make trunks. */
import { append } from '../../collections/group-by.js';
import type { Document } from '../../source/document.js';
import { rawPlan, type Rigs } from './rigs.js';
import type { Join, Link, Network, Port, Referrer, Vlan } from '../types.js';
import { listOrigin, originOf, type Draft, type ResolveContext, type Scope } from './context.js';

export function resolveJoins(
  documents: readonly Document[],
  rigs: Rigs,
  { vlanScope, networkScope }: { readonly vlanScope: Scope<Vlan>; readonly networkScope: Scope<Network> },
  context: ResolveContext,
): readonly Join[] {
  const joins: Join[] = [];
  for (const document of documents) {
    const rig = rigs.of(document);
    for (const raw of rawPlan(document).joins ?? []) {
      const origin = originOf(document, raw);
      const join: Draft<Join> = { origin, rig, vlans: [], networks: [] };
      const by: Referrer = { kind: 'join', entity: join };
      const all = <T>(scope: Scope<T>, key: 'vlans' | 'networks'): readonly T[] => {
        const list = listOrigin(origin, key);
        return (raw[key] ?? []).flatMap((text, index) => context.find(scope, rig, list, index, text, by) ?? []);
      };
      join.vlans = all(vlanScope, 'vlans');
      join.networks = all(networkScope, 'networks');
      joins.push(join);
    }
  }
  markVlans(joins);
  return joins;
}

/** A VLAN in two joins makes all of both one VLAN; the smaller set follows the larger one. */
function markVlans(joins: readonly Join[]): void {
  const members = new Map<Join, Vlan[]>();
  for (const join of joins) {
    let root = join;
    let own: Vlan[] = [];
    const take = (vlan: Vlan, as: Join): void => {
      (vlan as Draft<Vlan>).joinedAs = as;
    };
    for (const vlan of join.vlans) {
      const other = vlan.joinedAs;
      if (other === root) continue;
      const theirs = other === undefined ? [vlan] : (members.get(other) ?? [vlan]);
      if (other !== undefined && theirs.length > own.length) {
        for (const one of own) take(one, other);
        theirs.push(...own);
        own = theirs;
        root = other;
      } else {
        for (const one of theirs) take(one, root);
        own.push(...theirs);
      }
    }
    if (own.length > 0) members.set(root, own);
  }
}

/**
 * A link between two rigs that names its VLANs makes both its ports trunks of them, whatever they were set to before:
 * nobody sets up the port of a tie until the rigs meet. Each end knows a VLAN under its own rig's entry.
 */
export function setTiePorts(links: readonly Link[], vlans: readonly Vlan[]): void {
  const siblings = new Map<Join, Vlan[]>();
  for (const vlan of vlans) {
    if (vlan.joinedAs === undefined) continue;
    append(siblings, vlan.joinedAs, vlan);
  }
  for (const link of links) {
    const [a, b] = link.ends;
    const carried = link.vlans;
    if (carried === undefined || a.switch === undefined || b.switch === undefined) continue;
    if (a.switch.rig === b.switch.rig || link.transit !== undefined) continue;
    for (const { port } of link.ends) {
      if (port === undefined) continue;
      const { rig } = port.switch;
      const own = carried.map(
        (vlan) =>
          (vlan.rig === rig || vlan.joinedAs === undefined
            ? undefined
            : siblings.get(vlan.joinedAs)?.find((other) => other.rig === rig)) ?? vlan,
      );
      const draft = port as Draft<Port>;
      draft.access = undefined;
      draft.native = undefined;
      draft.trunk = [...new Set(own)];
    }
  }
}
