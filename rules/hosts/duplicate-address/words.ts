import { agree, listNames, type FindingWords } from '../../../src/doors/rule.js';

/** Routers hold the gateway address of their VLAN, and nothing says they share it. */
interface UnsaidGateway {
  readonly form: 'gateway';
  readonly address: string;
  readonly vlan: string;
  readonly holders: readonly string[];
}

interface DoubleAddress {
  readonly form: 'address';
  readonly address: string;
  readonly holders: readonly string[];
  /** False where nothing joins their VLANs today. */
  readonly meets: boolean;
  /** They stand in parts of one VLAN that nothing joins today. */
  readonly cut: boolean;
  /** They have one MAC too, as a copied entry has. */
  readonly oneMac: boolean;
  /** An address for the one to change. */
  readonly free: string | undefined;
}

export type Facts = UnsaidGateway | DoubleAddress;

export function words(facts: Facts): FindingWords<'change'> {
  return facts.form === 'gateway' ? unsaidGateway(facts) : doubleAddress(facts);
}

function unsaidGateway({ address, vlan, holders }: UnsaidGateway): FindingWords<'change'> {
  return {
    what: `gateway address ${address} of VLAN ${vlan} is on ${listNames(holders)}, and nothing says they share it`,
    onAir:
      'unless they run a shared-gateway protocol, both answer for the address: traffic out of the VLAN works, stalls and works again',
    fix: `if they share it, write the one virtual \`mac\` at each of them; if not, leave ${address} to one and give the others addresses of their own`,
    label: (name) => `${name}: the same gateway address`,
  };
}

function doubleAddress({ address, holders, meets, cut, oneMac, free }: DoubleAddress): FindingWords<'change'> {
  const copied = oneMac ? ', with one MAC: the entry looks copied' : '';
  return {
    what: `${address} is on ${listNames(holders)}${copied}${meets ? '' : cut ? ', in parts of its VLAN that nothing joins today' : ', in VLANs that nothing joins today'}`,
    onAir: meets
      ? 'each answers for the address: control, PTP and unicast reach now one, now the other, and receivers that filter by source take the wrong sender. It starts when the second one is powered'
      : cut
        ? 'nothing while the VLAN is cut; once a trunk joins its parts each answers for the address, and both drop in and out'
        : 'nothing until the VLANs are joined, by a patch or by a router: then each answers for the address and both drop in and out',
    fix: `leave ${address} to one and give ${agree(holders.length - 1, 'the other', 'each other')} an address nobody else has${free === undefined ? '' : `; ${free} is free`}`,
    label: (name) => `${name}: give this one another address`,
  };
}
