/**
 * A name that many use and nothing has, beside the one thing of its sort that nobody refers to: one slip, where the thing is
 * written down, explains both.
 */
import type { Device, Entity, Named, Plan, Port, Rig, Switch, Unresolved, Wanted } from '../../plan/types.js';
import { usedFormats, usedNetworks, usedVlans } from './usage.js';

export type Renamed = Entity & { readonly name: string };

/** So many uses of a name are no slips of their own. A cable's end names its port once. */
const LEAST_USES = 2;

/** Looks for the thing that most likely had the name of an unresolved reference; undefined where none or several may. */
export function createRenamed(plan: Plan): (use: Unresolved) => Renamed | undefined {
  // Names that lead nowhere, and how often each is used, by sort.
  const lost = new Map<string, Map<string, number>>();
  const anywhere = new Set<string>();
  for (const { wanted, text } of plan.unresolved) {
    anywhere.add(`${wanted.kind} ${text}`);
    const sort = sortOf(wanted);
    const names = lost.get(sort) ?? new Map<string, number>();
    lost.set(sort, names.set(text, (names.get(text) ?? 0) + 1));
  }
  return ({ wanted, text, origin }) => {
    const names = lost.get(sortOf(wanted));
    // Where several names of the sort lead nowhere, either may be the thing's.
    if (names?.size !== 1) return undefined;
    if (wanted.kind !== 'port' && (names.get(text) ?? 0) < LEAST_USES) return undefined;
    const [only, ...others] = unreferred(plan, wanted, plan.rigOf(origin.document));
    // A name that is looked for elsewhere is right: it is the switches that are mixed up.
    return only === undefined || others.length > 0 || anywhere.has(`${wanted.kind} ${only.name}`) ? undefined : only;
  };
}

/** Boxes that query or route are switches here. */
function sortOf({ kind, of }: Wanted): string {
  return `${kind === 'box' ? 'switch' : kind}\n${of?.name ?? ''}`;
}

function unreferred(plan: Plan, { kind, of }: Wanted, rig: Rig): readonly Renamed[] {
  switch (kind) {
    case 'kind':
      return plan.kinds.filter((one) => one.rig === rig && !one.used);
    case 'format':
      return without(plan.formats, usedFormats(plan)).filter((one) => plan.rigOf(one.origin.document) === rig);
    case 'network':
      return without(plan.networks, usedNetworks(plan)).filter((one) => one.rig === rig);
    case 'vlan':
      return without(plan.vlans, usedVlans(plan, 'by-others')).filter((one) => one.rig === rig);
    case 'switch':
    case 'box':
      return without(plan.switches, usedSwitches(plan)).filter((one) => one.rig === rig);
    case 'port':
      return of !== undefined && 'ports' in of ? freeAlone(plan, of) : [];
    case 'device':
    case 'stream':
    case 'sender':
    case 'interface':
      // Many of them may well be referred to by nobody.
      return [];
  }
}

function without<T extends Entity & { readonly name: string | undefined }>(
  all: readonly T[],
  used: ReadonlySet<T>,
): readonly (T & Renamed)[] {
  return all.filter((one): one is T & Renamed => one.name !== undefined && !used.has(one));
}

function usedSwitches({ interfaces, links, vlans }: Plan): ReadonlySet<Switch> {
  const used = new Set<Device | Switch | undefined>();
  for (const { port } of interfaces) used.add(port?.switch);
  for (const { ends } of links) for (const { port } of ends) used.add(port?.switch);
  for (const { igmp, mld, routing } of vlans) {
    for (const { on } of [...(igmp?.queriers ?? []), ...(mld?.queriers ?? [])]) used.add(on);
    for (const router of routing?.routers ?? []) used.add(router);
  }
  return new Set([...used].filter((one): one is Switch => one !== undefined && 'ports' in one));
}

/** Ports with an entry of their own, which a plan writes for a reason, that nothing is patched to. */
function freeAlone({ interfaces, links, switches }: Plan, owner: Switch): readonly Port[] {
  // Of two switches of one name nobody can tell whose port is meant.
  if (switches.some((one) => one !== owner && one.name === owner.name)) return [];
  const taken = new Set([
    ...interfaces.map(({ port }) => port),
    ...links.flatMap(({ ends }) => ends.map(({ port }) => port)),
  ]);
  return [...owner.ports.values()].filter(
    (port) => !taken.has(port) && (port.origin.container as Partial<Named>).name === port.name,
  );
}
