import {
  agree,
  entityLabel,
  listNames,
  type FindingWords,
  type HeldFact,
  type Interface,
  type Vlan,
} from '../../../src/doors/rule.js';
import type { GatewayFault } from '../../../src/doors/hosts.js';

export interface Facts {
  readonly gateway: string;
  readonly fault: GatewayFault;
  readonly interfaces: readonly Interface[];
  readonly vlan: Vlan | undefined;
  readonly subnet: string | undefined;
  /** The gateway the VLAN states. */
  readonly right: string | undefined;
  /** The gateway is another router of the VLAN. */
  readonly otherRouter: boolean;
  /** Most interfaces have this gateway, so what the VLAN states may be the slip. */
  readonly vlanInDoubt: boolean;
  /** A router's address in the subnet. */
  readonly router: HeldFact | undefined;
}

export type Note = 'doubt' | 'gateway';

export function words(facts: Facts): FindingWords<Note> {
  const { gateway, interfaces, otherRouter } = facts;
  return {
    what: `gateway ${gateway} of ${listNames(interfaces.map(entityLabel))} ${faultWords(facts)}`,
    onAir: otherRouter
      ? 'the way out depends on a box that is not meant for it: when that is changed or switched off, control from other VLANs fails'
      : 'nothing outside the VLAN can be reached: control and monitoring from other VLANs fail, media inside the VLAN go on',
    fix: fixWords(facts),
    label: (name, note) => (note === 'doubt' ? `${name}: should this be ${gateway}?` : `${name}: gateway`),
  };
}

function faultWords({ fault, interfaces, vlan, subnet, right, otherRouter }: Facts): string {
  if (fault === 'own') return 'is its own address';
  const theirs = vlan === undefined || right === undefined ? '' : `; that of VLAN ${vlan.name} is ${right}`;
  if (fault === 'unlike') return `is ${otherRouter ? 'another router of the VLAN' : 'wrong'}${theirs}`;
  const whose = agree(interfaces.length, 'its', 'their');
  return `is not in ${whose} subnet${subnet === undefined ? '' : ` ${subnet}`}${theirs}`;
}

function fixWords({ gateway, vlan, subnet, right, vlanInDoubt, router }: Facts): string {
  if (right !== undefined)
    return vlanInDoubt && vlan !== undefined
      ? `write ${gateway} at VLAN ${vlan.name} if the boxes are right; else set them to ${right}`
      : `set the gateway to ${right}`;
  return router === undefined
    ? `write a gateway${subnet === undefined ? '' : ` in ${subnet}`}, or none where nothing outside is needed`
    : `write ${router.address}, which ${router.holder} holds, or none where nothing outside is needed`;
}
