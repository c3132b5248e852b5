/** What links and host ports carry, by name: added up stream by stream, and as the model's loads say. */
import type { Interface, Plan } from '../../src/plan/types.js';
import { carriedBy } from '../../src/model/network/forward.js';
import type { Flow } from '../../src/model/network/flows.js';
import type { Load } from '../../src/model/network/load.js';

/** Bit/s by `link there`, `link back` and `device interface`; what carries nothing is left out. */
export interface Sums {
  readonly links: Readonly<Record<string, number>>;
  readonly ports: Readonly<Record<string, number>>;
}

/** Each flow carried by itself. */
export function sumsOf(flows: readonly Flow[], weight: (flow: Flow) => number): Sums {
  const links: Record<string, number> = {};
  const ports: Record<string, number> = {};
  for (const flow of flows) {
    const rate = weight(flow);
    const carried = carriedBy(flow);
    for (const step of carried.steps.keys()) {
      const [link] = step.edge.links;
      const there = link?.ends[0].switch === flow.forwarding.segment.nodes[step.from];
      const key = `${link?.name ?? ''} ${there ? 'there' : 'back'}`;
      links[key] = (links[key] ?? 0) + rate;
    }
    for (const host of carried.ports.keys()) ports[nameOf(host)] = (ports[nameOf(host)] ?? 0) + rate;
  }
  return { links, ports };
}

export function loadSums(plan: Plan, load: Load): Sums {
  const links: Record<string, number> = {};
  for (const [{ name = '' }, { there, back }] of load.links) {
    if (there > 0) links[`${name} there`] = there;
    if (back > 0) links[`${name} back`] = back;
  }
  const ports: Record<string, number> = {};
  for (const one of plan.interfaces) {
    const toHost = one.port === undefined ? 0 : (load.ports.get(one.port)?.toHost ?? 0);
    if (toHost > 0) ports[nameOf(one)] = toHost;
  }
  return { links, ports };
}

function nameOf({ device, name }: Interface): string {
  return `${device.name} ${name}`;
}
