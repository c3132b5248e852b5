/** Whether something stands where its VLAN is, and whether the tree has a way between two places. */
import type { AnyLeg, ForwardingSegment } from '../network/index.js';
import { mayCarry } from '../vlans/index.js';

/** A port that carries other VLANs only. */
export function isOutside({ interface: via, vlan }: AnyLeg): boolean {
  return via?.port !== undefined && vlan !== undefined && !mayCarry(via.port, vlan);
}

/** Whether the tree has a way between two switches. */
export function areJoined({ tree: { component } }: ForwardingSegment, a: number, b: number): boolean {
  return component[a] !== undefined && component[a] !== -1 && component[a] === component[b];
}
