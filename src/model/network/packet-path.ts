/** Which ports a stream's packets pass on the way to those who get it. */
import type { Interface, Port } from '../../plan/types.js';
import { onwardRouters, type Flow } from './flows.js';

/** The port it comes in by, both ends of every link on the way, and the ports it leaves by. */
export function portsOnWay(flow: Flow): ReadonlySet<Port> {
  const ports = new Set<Port>();
  const add = (port: Port | undefined): void => {
    if (port !== undefined) ports.add(port);
  };
  add(flow.entry?.port);
  const ends: readonly { readonly node: number; readonly interface: Interface | undefined }[] =
    flow.to === undefined
      ? [...flow.receivers, ...onwardRouters(flow).map(({ router }) => ({ node: router.node, interface: router.port }))]
      : [{ node: flow.to.node, interface: flow.to.port }];
  for (const { node, interface: via } of ends) {
    const steps = flow.forwarding.tree.path(flow.from, node);
    if (steps === undefined) continue;
    for (const { edge } of steps) for (const link of edge.links) for (const end of link.ends) add(end.port);
    add(via?.port);
  }
  return ports;
}
