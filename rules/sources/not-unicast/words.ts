import {
  agree,
  legLabel,
  listNames,
  nothingOf,
  receiverLegLabel,
  type FindingWords,
  type Leg,
  type ReceiverLeg,
} from '../../../src/doors/rule.js';
import type { SourceFault } from '../../../src/doors/sources.js';

export interface Facts {
  readonly source: string;
  readonly fault: SourceFault;
  /** Those that state the source. */
  readonly legs: readonly (Leg | ReceiverLeg)[];
}

export function words({ source, fault, legs }: Facts): FindingWords<'states'> {
  const names = legs.map((leg) => ('sender' in leg ? legLabel(leg) : receiverLegLabel(leg)));
  const streams = legs.map((leg) =>
    'sender' in leg ? leg.sender : (leg.receiver.takes ?? { essence: undefined, format: leg.receiver.format }),
  );
  return {
    what: `${listNames(names)} ${agree(legs.length, 'states', 'state')} source ${source}, ${faultWords(fault)}`,
    onAir:
      fault.kind === 'link-local'
        ? 'the stream stays in its VLAN, and the sender picks another such address when it likes: receivers that filter by source then lose it'
        : `receivers that filter by this source get nothing, and hosts discard packets from it: ${nothingOf(streams)}`,
    fix: 'write the address of the interface the stream leaves by',
    label: (name) => `${name}: states this source`,
  };
}

function faultWords(fault: SourceFault): string {
  switch (fault.kind) {
    case 'group':
      return 'which is a group, not a host';
    case 'unspecified':
      return 'which stands for no address at all';
    case 'loopback':
      return 'which never leaves the host';
    case 'link-local':
      return 'an address that a host self-assigns when it is given none';
    case 'broadcast':
      return 'which is the broadcast address';
    case 'this-network':
      return 'which is not a valid host source (0.0.0.0/8)';
    case 'reserved':
      return 'which is not a valid host source (240.0.0.0/4)';
    case 'subnet-network':
      return `the network address of ${fault.subnet} (VLAN ${fault.vlan.name})`;
    case 'subnet-broadcast':
      return `the broadcast address of ${fault.subnet} (VLAN ${fault.vlan.name})`;
  }
}
