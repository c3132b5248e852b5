/** Why a link or a port carries a stream. */
import type { Device, ReceiverLeg, Switch } from '../../plan/types.js';
import type { FloodReason } from './conduct.js';
import type { Sink } from './plane.js';

export type CarryReason =
  /** Sent to one address: to who holds it, or to the box that forwards it there. */
  | { readonly kind: 'addressed'; readonly to: Switch | Device; readonly by: readonly ReceiverLeg[] }
  | { readonly kind: 'joined'; readonly by: readonly ReceiverLeg[] }
  /** Somebody queries or routes there, or a router port was set by hand. */
  | { readonly kind: 'router port'; readonly towards: Switch | Device; readonly why: Sink['why'] | 'set by hand' }
  /** Bound to the port by hand, at a switch, and nobody behind it asked. */
  | { readonly kind: 'bound'; readonly at: Switch }
  | { readonly kind: 'flooded'; readonly why: FloodReason };
