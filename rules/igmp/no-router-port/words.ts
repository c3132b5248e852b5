import {
  agree,
  legLabel,
  listNames,
  receiverLegLabel,
  type Device,
  type FindingWords,
  type Leg,
  type ReceiverLeg,
  type Switch,
  type Vlan,
} from '../../../src/doors/rule.js';

export interface Facts {
  /** `noFoot`: no router has a port or an address in the VLAN. `noLink`: none leads from there to one that has. */
  readonly form: 'noFoot' | 'noLink';
  readonly vlan: Vlan;
  readonly routers: readonly (Switch | Device)[];
  /** Those of the part of the VLAN that no router hears, as far as the plan tells. */
  readonly switches: readonly Switch[];
  /** Whether streams are sent in that part, else they are taken there. */
  readonly sends: boolean;
  readonly legs: readonly Leg[];
  readonly takers: readonly ReceiverLeg[];
}

export function words({ form, vlan, routers, switches, sends, legs, takers }: Facts): FindingWords<'routers'> {
  const names = listNames(routers.map(({ name }) => name));
  const here =
    switches.length === 0
      ? 'where the streams are'
      : listNames(
          switches.map(({ name }) => name),
          3,
        );
  const apart =
    form === 'noFoot'
      ? `${agree(routers.length, 'it has', 'they have')} no port or address in that VLAN`
      : `no link carries that VLAN from ${here} to it`;
  return {
    what: `${names} ${agree(routers.length, 'is', 'are')} to route VLAN ${vlan.name}, but ${apart}`,
    onAir: `nothing carries ${listNames(legs.map(legLabel), 4)} ${sends ? 'out of' : 'into'} VLAN ${vlan.name}: ${listNames(takers.map(receiverLegLabel), 4)} ${agree(takers.length, 'stays', 'stay')} dark or silent`,
    fix: `carry VLAN ${vlan.name} to ${names} on the links between, or give ${agree(routers.length, 'it', 'one of them')} an address and a port there`,
    label: (name) => `${name}: routed by ${names}`,
  };
}
