import type { FindingWords, Vlan } from '../../../src/doors/rule.js';
import { HIGHEST_VLAN_ID, LOWEST_VLAN_ID } from '../../../src/doors/vlans.js';

export interface Facts {
  readonly vlan: Vlan;
  readonly id: number;
  /** The nearest that no other VLAN has. */
  readonly free: number | undefined;
}

export function words({ vlan, id, free }: Facts): FindingWords {
  return {
    what: `VLAN ${vlan.name} has the id ${id}, which ${meaning(id)}`,
    onAir: 'switches refuse the id, or cut it down to another VLAN: nothing in this VLAN passes a trunk',
    fix: `give the VLAN an id from ${LOWEST_VLAN_ID} to ${HIGHEST_VLAN_ID}${free === undefined ? '' : `, ${free} for one`}`,
  };
}

/** IEEE 802.1Q-2022 table 9-2: 0 means no VLAN, 4095 is reserved; the field has 12 bits. */
function meaning(id: number): string {
  if (id === 0) return 'marks a frame with a priority and no VLAN';
  return id === HIGHEST_VLAN_ID + 1 ? 'the standard reserves' : 'does not fit the 12 bits of a tag';
}
