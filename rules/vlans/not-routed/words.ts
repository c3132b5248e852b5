import {
  agree,
  legLabel,
  listNames,
  receiverLegLabel,
  type FindingWords,
  type Interface,
  type Leg,
  type ReceiverLeg,
  type Vlan,
} from '../../../src/doors/rule.js';

export interface Facts {
  /** Why nothing gets across: the plan states no multicast routing at all, none in some of the two, or no common router. */
  readonly form: 'notStated' | 'notPlanned' | 'noRouter';
  readonly from: Vlan;
  readonly to: Vlan;
  /** Those of the two in which no multicast routing is planned. */
  readonly unrouted: readonly Vlan[];
  readonly legs: readonly Leg[];
  readonly takers: readonly ReceiverLeg[];
  /** The interface that each receiving device has in the sender's VLAN; none where one of them has not. */
  readonly interfaces: readonly Interface[];
}

/** Where a leg is. */
export interface Note {
  readonly vlan: Vlan;
}

export function words(facts: Facts): FindingWords<Note> {
  const { from, to, legs, takers, interfaces } = facts;
  const rigs = from.rig !== to.rig;
  const label = ({ name, rig }: Vlan): string => (rigs ? `${name} of ${rig.name}` : name);
  const withNumber = (vlan: Vlan): string => (vlan.id === undefined ? label(vlan) : `${label(vlan)} (id ${vlan.id})`);
  const receivers = listNames(takers.map(receiverLegLabel));
  const streams = listNames(legs.map(legLabel));
  return {
    what: `${receivers} in VLAN ${withNumber(to)} ${agree(takers.length, 'takes', 'take')} ${streams} from VLAN ${withNumber(from)}, and ${why(facts)}`,
    onAir: `${streams} never ${agree(legs.length, 'reaches', 'reach')} ${receivers}: the join stays in VLAN ${label(to)}, the stream in ${label(from)}`,
    fix: `receive on ${interfaceWords(interfaces)} in VLAN ${label(from)}, or route multicast between the two VLANs and state it as their \`routing\``,
    label: (name, { vlan }) => `${name}, in VLAN ${label(vlan)}`,
  };
}

function why({ form, unrouted }: Facts): string {
  if (form === 'notStated') return 'the plan states no multicast routing';
  return form === 'noRouter'
    ? 'no router routes multicast in both'
    : `no multicast routing is planned in ${listNames(unrouted.map(({ name }) => name))}`;
}

function interfaceWords(interfaces: readonly Interface[]): string {
  if (interfaces.length === 0) return 'an interface';
  const names = interfaces.map(({ name, device }) => `${name} of ${device.name}`);
  return names.length > 1 ? `${listNames(names, 3)},` : `interface ${names.join('')},`;
}
