import { agree, listNames, type FindingWords } from '../../../src/doors/rule.js';

export interface Facts {
  readonly gateway: string;
  /** With its rig where another rig's box has the address. */
  readonly vlan: string;
  /** Boxes that have the address and do not route; routers that have it too. */
  readonly takers: readonly string[];
  readonly routers: readonly string[];
  /** An address for the first of them. */
  readonly free: string | undefined;
}

export function words({ gateway, vlan, takers, routers, free }: Facts): FindingWords<'has-it'> {
  const also = routers.length === 0 ? '' : `; ${listNames(routers)} ${agree(routers.length, 'has', 'have')} it too`;
  const another = `give ${agree(takers.length, 'it', 'them')} another address${free === undefined ? '' : `, such as ${free}`}`;
  return {
    what: `${gateway}, the gateway of VLAN ${vlan}, is on ${listNames(takers)}, which ${agree(takers.length, 'does', 'do')} not route${also}`,
    onAir:
      'boxes send what should leave the VLAN to one that discards it: control from other VLANs is gone, or comes and goes while the router is on too',
    fix:
      routers.length > 0
        ? another
        : `write the address that a router has here as the gateway; ${takers.length === 1 ? 'if this box is the router, write `routes: true` at it' : 'of these boxes the router needs `routes: true`'}; or plan a router and ${another}`,
    label: (name) => `${name}: has the gateway's address`,
  };
}
