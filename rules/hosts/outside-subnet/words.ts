import { listNames, type FindingWords, type HeldFact, type Vlan } from '../../../src/doors/rule.js';

interface OutsideAddress extends HeldFact {
  readonly form: 'address';
  readonly vlan: Vlan;
  readonly subnet: string;
  /** The VLAN in whose subnet the address lies; `isIts` where that is its own, by its other subnet. */
  readonly home: { readonly vlan: Vlan; readonly subnet: string | undefined; readonly isIts: boolean } | undefined;
  /** An address in the VLAN's subnet. */
  readonly free: string | undefined;
}

/** Most addresses of a VLAN lie in one other subnet. */
interface OutvotedVlan {
  readonly form: 'vlan';
  readonly vlan: Vlan;
  readonly subnet: string;
  readonly holders: readonly string[];
  /** How many addresses the VLAN has, those of the holders among them. */
  readonly addresses: number;
  readonly theirs: string;
  /** The VLAN that has their subnet. */
  readonly home: Vlan | undefined;
}

export type Facts = OutsideAddress | OutvotedVlan;

export type Note = 'outside' | 'queries' | 'doubt';

export function words(facts: Facts): FindingWords<Note> {
  return facts.form === 'address' ? outside(facts) : outvoted(facts);
}

function outside({ address, holder, vlan, subnet, home, free }: OutsideAddress): FindingWords<Note> {
  const lies =
    home === undefined ? '' : `; it lies in ${home.subnet ?? 'a subnet'}, the subnet of VLAN ${home.vlan.name}`;
  const give = `give it an address in ${subnet}${free === undefined ? '' : `, such as ${free}`}`;
  return {
    what: `${address} of ${holder} is not in ${subnet}, the subnet of its VLAN ${vlan.name}${lies}`,
    onAir:
      'nothing in the VLAN answers it by unicast: no control, no PTP by unicast, and receivers drop its stream where they check the path back to the source',
    fix:
      home === undefined || home.isIts
        ? give
        : `if it belongs in ${home.vlan.name}, write that VLAN and patch it there; if not, ${give}`,
    label: (name, note) => (note === 'queries' ? `${name}: queries from it` : `${name}: not in ${subnet}`),
  };
}

function outvoted({ vlan, subnet, holders, addresses, theirs, home }: OutvotedVlan): FindingWords<Note> {
  const whose = home === undefined ? '' : `, the subnet of VLAN ${home.name}`;
  return {
    what: `VLAN ${vlan.name} says ${subnet}, but ${holders.length} of its ${addresses} addresses lie in ${theirs}${whose}: ${listNames(holders)}`,
    onAir:
      'whoever sets up gateways and switches from the VLAN and boxes from their addresses builds two networks: no control, no unicast, no path back to the source',
    fix:
      home === undefined
        ? `write ${theirs} in VLAN ${vlan.name} if the boxes are right; else give them addresses in ${subnet}`
        : `put the boxes in VLAN ${home.name} if that is where they are; else give them addresses in ${subnet}`,
    label: (name) =>
      home === undefined ? `${name}: should this be ${theirs}?` : `${name}: is this the right VLAN for them?`,
  };
}
