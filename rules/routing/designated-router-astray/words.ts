import {
  legLabel,
  listNames,
  receiverLegLabel,
  type FindingWords,
  type Leg,
  type ReceiverLeg,
  type Vlan,
} from '../../../src/doors/rule.js';
import type { Box } from '../../../src/doors/routing.js';

export interface Facts {
  readonly vlan: Vlan;
  /** It serves the receivers, and asks the other router for what they take. */
  readonly designated: Box;
  readonly sending: Box;
  readonly legs: readonly Leg[];
  readonly takers: readonly ReceiverLeg[];
}

export type Note = 'routing';

export function words({ vlan, designated, sending, legs, takers }: Facts): FindingWords<Note> {
  return {
    what: `${designated.name} is the designated router of VLAN ${vlan.name}, and its path to ${listNames(legs.map(legLabel), 4)} leads back through that VLAN to ${sending.name}`,
    onAir: `${sending.name} sends the stream into the VLAN; some routers then send it back as the designated one, and ${listNames(takers.map(receiverLegLabel), 4)} may get every packet twice`,
    fix: `let ${sending.name} serve the receivers: \`routing: {interfaces: [{on: ${designated.name}, priority: 0}]}\``,
    label: (name) => `${name}: served by ${designated.name}`,
  };
}
