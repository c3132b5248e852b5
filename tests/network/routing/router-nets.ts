/** Small networks of routers, written as who stands on which wire, for tests of ways alone. */
import { parseAddress } from '../../../src/values/address.js';
import { routerGraph, type Foot, type Router, type RouterGraph } from '../../../src/model/network/routing/graph.js';

export interface Net {
  readonly graph: RouterGraph;
  readonly wire: (name: string) => number;
  readonly name: (wire: number) => string;
}

export interface OnWire {
  readonly address?: string;
  readonly cost?: number;
  readonly priority?: number;
  readonly multicast?: boolean;
}

/** `{lan: {r1: {address: …}, r2: {}}}`: wires, and the routers on each. */
export function net(wires: Readonly<Record<string, Readonly<Record<string, OnWire>>>>): Net {
  const routers = new Map<string, Router>();
  const names = Object.keys(wires);
  const feet = names.flatMap((wire, number) =>
    Object.entries(wires[wire] ?? {}).map(([name, one]): Foot => {
      const on = routers.get(name) ?? { name };
      routers.set(name, on);
      return {
        on,
        wire: number,
        cost: one.cost ?? 10,
        multicast: one.multicast ?? true,
        priority: one.priority ?? 1,
        address: one.address === undefined ? undefined : parseAddress(one.address),
      };
    }),
  );
  return {
    graph: routerGraph(feet),
    wire: (name) => names.indexOf(name),
    name: (wire) => names[wire] ?? '',
  };
}

/** The net without some routers, or without feet written `router@wire`. */
export function without(
  wires: Readonly<Record<string, Readonly<Record<string, OnWire>>>>,
  ...gone: readonly string[]
): Net {
  return net(
    Object.fromEntries(
      Object.entries(wires).map(([wire, feet]) => [
        wire,
        Object.fromEntries(
          Object.entries(feet).filter(([router]) => !gone.includes(router) && !gone.includes(`${router}@${wire}`)),
        ),
      ]),
    ),
  );
}
