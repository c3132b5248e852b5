import type { FindingWords, HeldFact, Vlan } from '../../../src/doors/rule.js';

export type Fault = 'outside' | 'network-address' | 'broadcast-address';

export interface Facts {
  readonly vlan: Vlan;
  readonly gateway: string;
  readonly fault: Fault;
  readonly subnet: string;
  /** Host addresses of the subnet. */
  readonly hosts: string;
  /** A router's address in the subnet, and who holds it. */
  readonly router: HeldFact | undefined;
}

export function words({ vlan, gateway, fault, subnet, hosts, router }: Facts): FindingWords<'gateway' | 'subnet'> {
  return {
    what: `gateway ${gateway} of VLAN ${vlan.name} ${FAULTS[fault]} ${subnet}`,
    onAir:
      'no box of the VLAN can reach the gateway, so nothing gets out of the VLAN or in: no control from other VLANs, no circuit',
    fix:
      router === undefined
        ? `write the gateway's address in ${hosts}, or correct the subnet`
        : `write ${router.address}, which ${router.holder} holds, or correct the subnet`,
    label: (name, key) => `${name}: ${key}`,
  };
}

const FAULTS: Readonly<Record<Fault, string>> = {
  outside: 'is not in',
  'network-address': 'is the network address of',
  'broadcast-address': 'is the broadcast address of',
};
