import type { FindingWords, HeldFact } from '../../../src/doors/rule.js';
import type { EdgeKind } from '../../../src/doors/hosts.js';

export interface Facts extends HeldFact {
  readonly kind: EdgeKind;
  readonly subnet: string;
  /** An address the box can have. */
  readonly free: string | undefined;
}

export function words({ address, holder, kind, subnet, free }: Facts): FindingWords<'edge'> {
  const edge = `${NAMES[kind]} of ${subnet}`;
  return {
    what: `${address} of ${holder} is ${edge}`,
    onAir:
      kind === 'anycast'
        ? 'every router of the subnet answers for this address too: control and unicast of the box come and go once a router is on'
        : 'most boxes refuse the address and stay without one, or keep an old one; from others, neighbours drop what they get',
    fix: `give it another address of ${subnet}${free === undefined ? '' : `, such as ${free}`}`,
    label: (name) => `${name}: ${edge}`,
  };
}

const NAMES: Readonly<Record<EdgeKind, string>> = {
  network: 'the network address',
  broadcast: 'the broadcast address',
  anycast: "the routers' anycast address",
};
