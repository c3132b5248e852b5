/** Which ports a stream's packets pass on the way to those who get it. */
import type { Port } from '../../plan/types.js';
import type { Flow } from './flows.js';

/** The sender's port, both ends of every link on the way, and the receivers' ports. */
export function portsOnWay(flow: Flow): ReadonlySet<Port> {
  const ports = new Set<Port>();
  const add = (port: Port | undefined): void => {
    if (port !== undefined) ports.add(port);
  };
  if (flow.through === undefined) add(flow.leg.interface?.port);
  const ends = flow.to === undefined ? flow.receivers : [{ node: flow.to.node, interface: flow.to.port }];
  for (const { node, interface: via } of ends) {
    const steps = flow.forwarding.tree.path(flow.from, node);
    if (steps === undefined) continue;
    for (const { edge } of steps) for (const link of edge.links) for (const end of link.ends) add(end.port);
    add(via?.port);
  }
  return ports;
}
