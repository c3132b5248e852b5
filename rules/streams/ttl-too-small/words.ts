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
  /** 0: it never leaves the sender. 1: it stops at the first router. More: at one of several. */
  readonly ttl: number;
  /** How many it would have to pass. */
  readonly routers: number;
  readonly senders: readonly Sender[];
  /** Those behind a router, and their VLANs. */
  readonly receivers: readonly ReceiverLeg[];
  readonly vlans: readonly string[];
  /** Some go to groups, about which no error message is ever sent. */
  readonly toGroups: boolean;
}

export type Note = { readonly ttl: number } | 'behind-router';

export function words({ ttl, routers, senders, receivers, vlans, toGroups }: Facts): FindingWords<Note> {
  const about = `${listNames(senders.map((sender) => sender.label))} ${agree(senders.length, 'is', 'are')} sent`;
  const far = receivers.map(receiverLegLabel);
  return {
    what:
      ttl === 0
        ? `${about} with TTL 0, which must not leave the sender`
        : `${about} with TTL ${ttl}, but ${listNames(far)} ${agree(far.length, 'takes', 'take')} it in VLAN ${listNames(vlans)}, behind ${routers === 1 ? 'a router' : `${routers} routers`}`,
    onAir:
      ttl === 0
        ? `no packet reaches the network: ${nothingOf(senders)} anywhere`
        : `the stream plays in its own VLAN${ttl > 1 ? ', and behind fewer routers,' : ''} and stops at ${routers === 1 ? 'the router' : `router ${ttl} of ${routers}`}${toGroups ? ', without any error message' : ''}: the receivers behind it stay dark`,
    fix: `set a TTL above the number of routers on the path, ${routers + 1} at the least${routers > 1 ? ' and more where a failure makes the path longer' : ''}; 64 is a usual value`,
    label: (name, note) =>
      note === 'behind-router' ? `${name}: takes it behind a router` : `${name}: TTL ${note.ttl}`,
  };
}
