/** What is plugged into each switch port. */
import type { Interface, Link, Plan, Port } from '../../plan/types.js';

export interface PortUse {
  readonly interfaces: readonly Interface[];
  readonly links: readonly Link[];
}

/** By port; undefined where no port has two users at all, which costs far less to see. */
export function portUses(plan: Plan): ReadonlyMap<Port, PortUse> | undefined {
  if (!anyTwice(plan)) return undefined;
  const found = new Map<Port, { readonly interfaces: Interface[]; readonly links: Link[] }>();
  const of = (port: Port): { readonly interfaces: Interface[]; readonly links: Link[] } => {
    let use = found.get(port);
    if (use === undefined) found.set(port, (use = { interfaces: [], links: [] }));
    return use;
  };
  for (const one of plan.interfaces) if (one.port !== undefined) of(one.port).interfaces.push(one);
  for (const link of plan.links) for (const end of link.ends) if (end.port !== undefined) of(end.port).links.push(link);
  return found;
}

function anyTwice({ interfaces, links }: Plan): boolean {
  const seen = new Set<Port>();
  let uses = 0;
  const count = (port: Port | undefined): void => {
    if (port === undefined) return;
    seen.add(port);
    uses++;
  };
  for (const { port } of interfaces) count(port);
  for (const link of links) for (const { port } of link.ends) count(port);
  return seen.size < uses;
}
