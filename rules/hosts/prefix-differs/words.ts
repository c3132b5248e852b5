import { listNames, type FindingWords, type HeldFact, type Vlan } from '../../../src/doors/rule.js';

interface OddAddress extends HeldFact {
  readonly form: 'address';
  readonly prefixLength: number;
  readonly vlan: Vlan;
  readonly subnet: string;
  readonly subnetLength: number;
}

/** Most addresses of a VLAN have one other prefix length. */
interface OutvotedVlan {
  readonly form: 'vlan';
  readonly vlan: Vlan;
  readonly subnet: string;
  readonly subnetLength: number;
  readonly holders: readonly string[];
  /** How many addresses the VLAN has, those of the holders among them. */
  readonly addresses: number;
  readonly theirs: string;
  readonly theirLength: number;
}

export type Facts = OddAddress | OutvotedVlan;

/** Both lengths of an odd address; that the VLAN's is to be doubted; the length of a box. */
export type Note =
  { readonly says: 'lengths' } | { readonly says: 'doubt' } | { readonly says: 'length'; readonly length: number };

export function words(facts: Facts): FindingWords<Note> {
  return facts.form === 'address' ? odd(facts) : outvoted(facts);
}

function odd({ address, holder, prefixLength, vlan, subnet, subnetLength }: OddAddress): FindingWords<Note> {
  return {
    what: `${holder} has ${address}/${prefixLength}, but VLAN ${vlan.name} is ${subnet}`,
    onAir:
      prefixLength < subnetLength
        ? 'it looks for boxes of other subnets in its own VLAN and never asks the gateway: they cannot be reached from it'
        : 'it sends to part of its own VLAN by way of the gateway, or not at all where there is none: some boxes can be reached, others not',
    fix: `write ${address}/${subnetLength} and set the same on the box`,
    label: (name) => `${name}: /${prefixLength} instead of /${subnetLength}`,
  };
}

function outvoted(facts: OutvotedVlan): FindingWords<Note> {
  const { vlan, subnet, subnetLength, holders, addresses, theirs, theirLength } = facts;
  return {
    what: `VLAN ${vlan.name} says ${subnet}, but ${holders.length} of its ${addresses} addresses have a /${theirLength}: ${listNames(holders)}`,
    onAir:
      'boxes and gateway disagree about who is near: where one side sends straight and the other by the gateway, control and unicast work one way only',
    fix: `${
      theirLength < subnetLength ? `write ${theirs} in VLAN ${vlan.name}` : `make VLAN ${vlan.name} a /${theirLength}`
    } if the boxes are right; else set them to /${subnetLength}`,
    label: (name, note) =>
      note.says === 'length' ? `${name}: /${note.length}` : `${name}: should this be a /${theirLength}?`,
  };
}
