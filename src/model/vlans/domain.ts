/** Where something stands on the network, and the part of it in which it is heard. */
import type { Interface, Network, Port, Switch, Vlan } from '../../plan/types.js';

export interface Domain {
  /** For people: `VLAN red-video`, `VLANs red-audio and red-video (joined by routing)`, `network red`, `the first legs`. */
  readonly title: string;
  /** Short name for subject keys: a network's or VLAN's, with the rig's where rigs share it; parts of a VLAN share one. */
  readonly key: string;
  readonly vlans: readonly Vlan[];
  /** Switches it is known to stand on, by name; empty where the plan does not tell. */
  readonly switches: readonly Switch[];
}

/** Anything that stands somewhere on the network: a sender leg, a receiver leg or an interface. */
export interface Attached {
  readonly interface?: Interface | undefined;
  readonly vlan: Vlan | undefined;
  readonly network: Network | undefined;
  /** Port of an interface asked about itself. */
  readonly port?: Port | number | undefined;
  /** Leg number from 0; an interface counts as a first leg. */
  readonly index?: number;
}
