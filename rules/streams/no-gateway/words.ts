import {
  agree,
  legLabel,
  listNames,
  type FindingWords,
  type Leg,
  type NonEmpty,
  type Vlan,
} from '../../../src/doors/rule.js';

export interface Facts {
  readonly vlan: Vlan;
  readonly legs: NonEmpty<Leg>;
  /** The key of the VLAN that is missing. */
  readonly key: 'gateway' | 'gateway6';
  /** Where they are sent. */
  readonly addresses: readonly string[];
  readonly subnet: string | undefined;
  /** A box that forwards and has an address in the subnet. */
  readonly router: { readonly name: string; readonly address: string } | undefined;
}

export function words({ vlan, legs, key, addresses, subnet, router }: Facts): FindingWords {
  const where = subnet === undefined ? 'its subnet' : subnet;
  return {
    what: `${listNames(legs.map(legLabel))} ${agree(legs.length, 'is', 'are')} sent from VLAN ${vlan.name} to ${listNames(addresses)}, outside ${where}, and neither the VLAN nor the sending interface has a gateway`,
    onAir:
      'the sender has nowhere to send the packets and drops them itself: the receiver stays dark, and no switch ever sees the stream',
    fix:
      router === undefined
        ? `give VLAN ${vlan.name} a \`${key}\`: the address of a box that forwards, in ${where}; or receive the stream in this VLAN`
        : `give VLAN ${vlan.name} \`${key}: ${router.address}\`, the address of ${router.name}, and set it at the senders`,
  };
}
