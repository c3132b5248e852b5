import {
  agree,
  byLabel,
  linkLabel,
  listNames,
  portLabel,
  withId,
  type FindingWords,
  type Port,
  type Switch,
  type Vlan,
} from '../../../src/doors/rule.js';
import { listsWithout, type LackingLink } from '../../../src/doors/vlans.js';

export interface Facts {
  readonly vlan: Vlan;
  readonly from: Switch;
  readonly to: Switch;
  /** The links on a way that would have to carry it; none where no links lead there. */
  readonly links: readonly LackingLink[];
  /** What never arrives. */
  readonly streams: readonly string[];
}

/** A port or a link that does not carry it; where a host is patched. */
export type Note = 'port' | 'link' | { readonly on: Port };

export function words({ vlan, from, to, links, streams }: Facts): FindingWords<Note> {
  const none = links.length === 0;
  const between = byLabel([from.name, to.name], (name) => name).join(' and ');
  const why = none
    ? 'no links lead from one to the other'
    : `${agree(links.length, 'link')} ${listNames(links.map(({ link }) => linkLabel(link)))} ${agree(links.length, 'does', 'do')} not carry it`;
  return {
    what: `VLAN ${withId(vlan)} does not get from switch ${from.name} to switch ${to.name}: ${why}`,
    onAir: `${listNames(streams)} never ${agree(streams.length, 'arrives', 'arrive')}: black or silent from the start, though sender and receiver each look healthy`,
    fix: none
      ? `link ${between}, or the networks they are in, with a trunk that carries ${withId(vlan)}`
      : `add ${withId(vlan)} to ${listNames(links.flatMap(listsWithout))}`,
    label: (name, note) => {
      if (note === 'port') return `${name} does not carry ${vlan.name}`;
      return note === 'link' ? `${name} is said not to carry ${vlan.name}` : `${name}, on ${portLabel(note.on)}`;
    },
  };
}
