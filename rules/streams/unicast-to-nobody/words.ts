import { agree, legLabel, listNames, type FindingWords, type Leg, type Vlan } from '../../../src/doors/rule.js';

export interface Facts {
  readonly legs: readonly Leg[];
  readonly address: string;
  readonly vlan: Vlan;
  readonly subnet: string | undefined;
}

/** Places are noted with the address. */
export function words({ legs, address, vlan, subnet }: Facts): FindingWords<string> {
  return {
    what: `${listNames(legs.map(legLabel))} ${agree(legs.length, 'is', 'are')} sent to ${address}, in ${subnet ?? 'the subnet'} of VLAN ${vlan.name}, but no interface there has this address`,
    onAir:
      'nobody answers for the address, so the stream is never sent or is dropped by the last router; the receiver stays dark',
    fix: `send it to the address of the receiving interface, or give that interface ${address}`,
    label: (name, to) => `${name}: sent to ${to}`,
  };
}
