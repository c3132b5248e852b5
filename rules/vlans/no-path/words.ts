import {
  agree,
  byLabel,
  linkLabel,
  listNames,
  portLabel,
  withId,
  type FindingWords,
  type Link,
  type Port,
  type Switch,
  type Vlan,
} from '../../../src/doors/rule.js';

/** A link that does not carry the VLAN. */
interface Lacking {
  readonly link: Link;
  /** Its ports that do not, and whether each is a trunk already. */
  readonly ports: readonly { readonly port: Port; readonly trunk: boolean }[];
  /** Whether the link is said to carry others alone. */
  readonly said: boolean;
}

export interface Facts {
  readonly vlan: Vlan;
  readonly from: Switch;
  readonly to: Switch;
  /** The links on a way that would have to carry it; none where no links lead there. */
  readonly links: readonly Lacking[];
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

/** The lists that lack the VLAN: `the trunk at core/5`, or the link's own. */
function listsWithout({ link, ports, said }: Lacking): readonly string[] {
  const own = `the \`vlans\` of link ${linkLabel(link)}`;
  const lists = ports.map(({ port, trunk }) => `${trunk ? 'the trunk' : 'a trunk'} at ${portLabel(port)}`);
  return byLabel(said || ports.length === 0 ? [...lists, own] : lists, (list) => list);
}
