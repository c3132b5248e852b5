import {
  agree,
  counted,
  linkLabel,
  listNames,
  withId,
  type FindingWords,
  type Switch,
  type Vlan,
} from '../../../src/doors/rule.js';
import { listsWithout, type LackingLink } from '../../../src/doors/vlans.js';

/** A part of a VLAN. */
export interface Part {
  /** The switch where most of its addresses are. */
  readonly on: Switch;
  /** How many addresses it has, those of switches among them. */
  readonly count: number;
}

export interface Facts {
  readonly vlan: Vlan;
  readonly subnets: readonly string[];
  /** Most addresses first. */
  readonly parts: readonly Part[];
  /** The links that would have to carry it. */
  readonly links: readonly LackingLink[];
}

/** A port or a link that does not carry it; the switch an address hangs on. */
export type Note = 'port' | 'link' | { readonly on: Switch };

export function words({ vlan, subnets, parts, links }: Facts): FindingWords<Note> {
  const where = parts.map(({ on, count }) => `${counted(count, 'address', 'addresses')} around ${on.name}`);
  const names = links.map(({ link }) => linkLabel(link));
  return {
    what: `VLAN ${withId(vlan)}, subnet ${listNames(subnets)}, is in ${parts.length} parts: ${listNames(where, 4)}; ${agree(links.length, 'link')} ${listNames(names)} ${agree(links.length, 'does', 'do')} not carry it`,
    onAir:
      'hosts of one part take those of the others for neighbours, ask for them and hear nothing: no control, no monitoring, no set-up from the desk, though all look healthy where they are',
    fix: `add ${withId(vlan)} to ${listNames(links.flatMap(listsWithout))}; or give each part a VLAN and subnet of its own, with a router between them`,
    label: (name, note) => {
      if (note === 'port') return `${name} does not carry ${vlan.name}`;
      return note === 'link' ? `${name} is said not to carry ${vlan.name}` : `${name}, on ${note.on.name}`;
    },
  };
}
