import { listNames, type FindingWords, type Vlan } from '../../../src/doors/rule.js';

interface VlanSubnet {
  readonly vlan: string;
  readonly subnet: string;
}

interface SeveralVlans {
  readonly form: 'several-vlans';
  readonly subnets: readonly VlanSubnet[];
  /** Something joins the VLANs today. */
  readonly meets: boolean;
  /** The VLAN to move, and a block for it. */
  readonly move: Vlan;
  readonly free: string | undefined;
}

/** Entries of several rigs that become one VLAN. */
interface OneVlan {
  readonly form: 'one-vlan';
  readonly subnets: readonly VlanSubnet[];
  readonly widest: string;
  /** VLANs that have a narrower one. */
  readonly change: readonly string[];
}

export type Facts = SeveralVlans | OneVlan;

export type Note = { readonly says: 'move' } | { readonly says: 'subnet'; readonly subnet: string };

export function words(facts: Facts): FindingWords<Note> {
  return { ...(facts.form === 'one-vlan' ? oneVlan(facts) : severalVlans(facts)), label };
}

function label(name: string, note: Note): string {
  return note.says === 'move' ? `${name}: give this one a block of its own` : `${name}, ${note.subnet}`;
}

function severalVlans({ subnets, meets, move, free }: SeveralVlans): FindingWords {
  const names = subnets.map(({ vlan, subnet }) => `${vlan} ${subnet}`);
  return {
    what: `subnets of ${subnets.length} VLANs overlap: ${listNames(names)}${meets ? '' : '; nothing joins the VLANs today'}`,
    onAir: meets
      ? 'a router or a box in both sends what is meant for one to the other: some boxes cannot be reached by unicast, others only from one side'
      : 'nothing until the VLANs are joined, or one box stands in both: then some boxes cannot be reached by unicast',
    fix: `give VLAN ${move.name} a block that no other VLAN uses${free === undefined ? '' : `, such as ${free}`}, with its gateway, its DHCP range and its boxes`,
  };
}

function oneVlan({ subnets, widest, change }: OneVlan): FindingWords {
  return {
    what: `${listNames(subnets.map(({ vlan }) => vlan))} become one VLAN, but their subnets only overlap: ${listNames(subnets.map(({ subnet }) => subnet))}`,
    onAir:
      'boxes of the two rigs disagree about who is near: where one side sends straight and the other by the gateway, or not at all, control and unicast work one way only',
    fix: `write ${widest} in ${listNames(change)} and on its boxes, or give it a block of its own`,
  };
}
