/** What a stream is in one segment. */
import type { Device, Interface, Leg, ReceiverLeg, Switch } from '../../plan/types.js';
import type { FloodReason } from './conduct.js';
import type { ForwardingSegment } from './ground.js';
import type { Plane } from './plane.js';

/** A leg in one segment: where it starts there and who takes it there. */
export interface Flow {
  readonly leg: Leg;
  readonly forwarding: ForwardingSegment;
  readonly from: number;
  /** How it got here: from its own interface, or through a router. */
  readonly through: Switch | Device | undefined;
  /** The host port it comes in by; undefined beyond a router that is a switch itself. */
  readonly entry: Interface | undefined;
  readonly plane: Plane;
  /** Who asked for it here, reached or not, and whom a switch cannot tell from them. */
  readonly receivers: readonly Reached[];
  /** Who asked for it beyond a router that stands here: the router is a member for them. */
  readonly onward: readonly Onward[];
  /** Where a stream to one address goes here; undefined for groups. */
  readonly to: Target | undefined;
  /** Why every switch sends it everywhere; undefined where not all do, or where ports are set by hand. */
  readonly flood: FloodReason | undefined;
  /** True where some switch may flood it and not all do. */
  readonly partly: boolean;
}

export interface Onward {
  readonly on: Switch | Device;
  readonly receivers: readonly Reached[];
  /** It is asked to carry the stream on and does not: packets come to it with a TTL of 1 (RFC 1812 §5.3.1). */
  readonly drops: boolean;
}

export interface Reached {
  readonly leg: ReceiverLeg;
  readonly node: number;
  readonly interface: Interface;
}

/** The one place a stream to one address is sent to in a segment. */
export interface Target {
  readonly node: number;
  /** Of a host, or of a device that forwards; undefined where the switch itself takes it. */
  readonly port: Interface | undefined;
}
