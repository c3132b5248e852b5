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

export interface Facts {
  /** `sourceSpecificOnly`: the VLAN routes no others. `noRendezvousPoint`: none is planned for the groups. */
  readonly form: 'sourceSpecificOnly' | 'noRendezvousPoint';
  readonly vlan: Vlan;
  /** Sent in one VLAN, taken in another. */
  readonly legs: readonly Leg[];
  readonly groups: readonly string[];
  readonly takers: readonly ReceiverLeg[];
}

/** A VLAN's routing. */
export type Note = 'routing';

export function words({ form, vlan, legs, groups, takers }: Facts): FindingWords<Note> {
  const receivers = listNames(takers.map(receiverLegLabel), 4);
  const goes = `${listNames(legs.map(legLabel), 4)} (${listNames(groups, 4)}) ${agree(legs.length, 'goes', 'go')} to ${receivers} in another VLAN`;
  const stay = `${receivers} ${agree(takers.length, 'stays', 'stay')} dark or silent, receivers in the sender's own VLAN are fine`;
  const those = agree(groups.length, 'that group', 'those groups');
  if (form === 'sourceSpecificOnly')
    return {
      what: `${goes}, but VLAN ${vlan.name} routes source-specific groups only (pim-ssm), and ${those} ${agree(groups.length, 'is', 'are')} any-source`,
      onAir: `the routers take no join without a source outside their source-specific range: ${stay}`,
      fix: 'move those streams to source-specific groups (232.0.0.0/8) and have receivers name the source, or route with `mode: pim-sm` and a rendezvous point',
      label: (name) => `${name}: source-specific routing only`,
    };
  return {
    what: `${goes}, but no rendezvous point is planned for ${those}`,
    onAir: `no router knows where senders and receivers are to meet: ${stay}`,
    fix: 'name a rendezvous point that serves them under `routing: {rp: …}`, set on every router; or use source-specific groups, which need none',
    label: (name) => `${name}: no rendezvous point for them`,
  };
}
