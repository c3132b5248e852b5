import {
  agree,
  listNames,
  nothingOf,
  receiverLegLabel,
  type FindingWords,
  type ReceiverLeg,
  type Sender,
} from '../../../src/doors/rule.js';

export interface Facts {
  /** 0: it never leaves the sender. 1: it stops at the first router. */
  readonly ttl: 0 | 1;
  readonly senders: readonly Sender[];
  /** Those behind a router, and their VLANs. */
  readonly receivers: readonly ReceiverLeg[];
  readonly vlans: readonly string[];
  /** Some go to groups, about which no error message is ever sent. */
  readonly toGroups: boolean;
}

export type Note = { readonly ttl: number } | 'behind-router';

export function words({ ttl, senders, receivers, vlans, toGroups }: Facts): FindingWords<Note> {
  const about = `${listNames(senders.map((sender) => sender.label))} ${agree(senders.length, 'is', 'are')} sent`;
  const far = receivers.map(receiverLegLabel);
  return {
    what:
      ttl === 0
        ? `${about} with TTL 0, which must not leave the sender`
        : `${about} with TTL 1, but ${listNames(far)} ${agree(far.length, 'takes', 'take')} it in VLAN ${listNames(vlans)}, behind a router`,
    onAir:
      ttl === 0
        ? `no packet reaches the network: ${nothingOf(senders)} anywhere`
        : `the stream plays in its own VLAN and stops at the router${toGroups ? ', without any error message' : ''}: the receivers behind it stay dark`,
    fix: `set a TTL above the number of routers on the way, ${ttl + 1} at the least; 64 is a usual value`,
    label: (name, note) =>
      note === 'behind-router' ? `${name}: takes it behind a router` : `${name}: TTL ${note.ttl}`,
  };
}
