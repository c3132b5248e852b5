import { agree, type FindingWords, type HeldFact, type Vlan } from '../../../src/doors/rule.js';
import { heldWords } from '../../../src/doors/hosts.js';

export interface Facts {
  readonly held: readonly HeldFact[];
  readonly family: 'IPv4' | 'IPv6';
  readonly block: string;
  /** In IANA's registry, and the document that sets the block aside. */
  readonly name: string;
  readonly citation: string;
  /** By no host at all; where nothing in the path minds; by a rig that keeps to itself. */
  readonly usable: 'never' | 'at-risk' | 'alone';
  /** The VLAN whose whole subnet lies in the block. */
  readonly whole: { readonly vlan: Vlan; readonly subnet: string; readonly partOfBlock: boolean } | undefined;
}

export function words({ held, family, block, name, citation, usable, whole }: Facts): FindingWords<'block'> {
  const who = heldWords(held);
  // Some names of the registry come with quotes of their own.
  const aside = `${block}, set aside as "${name.replaceAll('"', '')}" (${citation})`;
  return {
    what:
      whole === undefined
        ? `${who} ${agree(held.length, 'lies', 'lie')} in ${aside}`
        : `VLAN ${whole.vlan.name} uses ${whole.partOfBlock ? `${whole.subnet}, part of ` : ''}${aside}: ${who}`,
    onAir: ON_AIR[usable],
    fix: `use private addresses: ${PRIVATE[family]}`,
    label: (label) => `${label}: ${name}`,
  };
}

const ON_AIR: Readonly<Record<Facts['usable'], string>> = {
  never:
    'the box refuses the address, or nothing that is sent to it arrives: no control, no unicast, no way back to its streams',
  'at-risk':
    'it may work on the bench; routers, filters and careful boxes drop such addresses, so it fails where another one is in the path',
  alone: 'nothing as long as the rig keeps to itself; it collides with whoever uses the block for what it is meant for',
};

const PRIVATE: Readonly<Record<Facts['family'], string>> = {
  IPv4: '10.0.0.0/8, 172.16.0.0/12 or 192.168.0.0/16',
  IPv6: 'a /48 of your own in fd00::/8',
};
