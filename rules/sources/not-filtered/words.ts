import {
  agree,
  legLabel,
  listNames,
  receiverLegLabel,
  type FindingWords,
  type Leg,
  type ReceiverLeg,
  type Vlan,
} from '../../../src/doors/rule.js';

/** A VLAN whose IGMP or MLD version cannot ask for one source. */
export interface OldVlan {
  readonly vlan: Vlan;
  readonly version: number | undefined;
}

export interface Facts {
  readonly group: string;
  readonly where: string;
  readonly legs: readonly Leg[];
  /** Of each leg, in the same order. */
  readonly sources: readonly string[];
  readonly vlans: readonly OldVlan[];
  /** Receivers that join any source. */
  readonly any: readonly ReceiverLeg[];
  readonly ipv4: boolean;
}

export type Note = { readonly says: 'too-old'; readonly version: number | undefined } | { readonly says: 'joins-any' };

export function words({ group, where, legs, sources, vlans, any, ipv4 }: Facts): FindingWords<Note> {
  const protocol = (version: number | undefined): string => `${ipv4 ? 'IGMP' : 'MLD'} ${version ?? ''}`;
  const names = legs.map((leg, index) => `${sources[index] ?? ''} (${legLabel(leg)})`);
  const culprits = [
    ...vlans.map(({ vlan, version }) => `VLAN ${vlan.name} runs ${protocol(version)}, which cannot ask for one source`),
    ...any.map((leg) => `${receiverLegLabel(leg)} joins any source`),
  ];
  const remedies = [
    ...(vlans.length > 0
      ? [`set ${ipv4 ? 'IGMP 3' : 'MLD 2'} in ${listNames(vlans.map(({ vlan }) => `VLAN ${vlan.name}`))}`]
      : []),
    ...(any.length > 0
      ? [
          `have ${listNames(any.map(receiverLegLabel))} join the one source ${agree(any.length, 'it needs', 'they need')}`,
        ]
      : []),
  ];
  return {
    what: `group ${group} in ${where} has ${legs.length} sources, ${listNames(names)}, but ${listNames(culprits)}`,
    onAir:
      'receivers there get all of the streams at once: pictures break up or freeze, sound is garbled, as soon as the second sender starts',
    fix: `${listNames(remedies)}, or give each stream a group of its own`,
    label: (name, note) =>
      note.says === 'joins-any'
        ? `${name}: joins any source`
        : `${name}: ${protocol(note.version)} cannot ask for one source`,
  };
}
