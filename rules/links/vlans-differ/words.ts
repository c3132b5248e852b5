import {
  agree,
  linkLabel,
  listNames,
  portLabel,
  type FindingWords,
  type Link,
  type Port,
  type Vlan,
} from '../../../src/doors/rule.js';

export interface Facts {
  readonly link: Link;
  /** Who has them: the link itself is said to, or its other end does. */
  readonly carriedBy: 'link' | 'otherEnd';
  readonly missing: readonly { readonly port: Port; readonly vlans: readonly Vlan[] }[];
  /** The names of all that do not pass, each once. */
  readonly lost: readonly string[];
}

/** What a port lacks or has. */
export interface Note {
  readonly kind: 'without' | 'carries';
  readonly vlans: readonly Vlan[];
}

export function words({ link, carriedBy, missing, lost }: Facts): FindingWords<Note> {
  const said = carriedBy === 'link';
  const count = lost.length;
  return {
    what: `on link ${linkLabel(link)}, ${missing.map(({ port, vlans }) => `${portLabel(port)} does not carry ${namesOf(vlans)}`).join(', and ')}, which ${said ? 'the link is said to carry' : 'the other end does'}`,
    onAir: `nothing in ${listNames(lost)} gets over this link: streams that have to are black or silent behind it from the start, whoever stays on one side sees nothing wrong`,
    fix:
      missing.map(({ port, vlans }) => `add ${namesOf(vlans)} to ${portLabel(port)}`).join(', ') +
      `; or take ${agree(count, 'it', 'them')} off ${said ? 'the link' : 'the other end'} where ${agree(count, 'it is', 'they are')} not meant to pass`,
    label: (name, { kind, vlans }) => `${name}: ${kind} ${namesOf(vlans)}`,
  };
}

function namesOf(vlans: readonly Vlan[]): string {
  return listNames(vlans.map(({ name }) => name));
}
