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
import type { Cut } from '../../../src/doors/links.js';

export interface Facts {
  readonly link: Link;
  /** Who has them: the link itself is said to, or its other end does. */
  readonly carriedBy: 'link' | 'otherEnd';
  readonly missing: readonly { readonly port: Port; readonly vlans: readonly Vlan[] }[];
  /** The names of all that do not pass, each once. */
  readonly lost: readonly string[];
  /** What that keeps apart, the worst of all VLANs. */
  readonly cut: Cut;
  /** Those of which that is true. */
  readonly cutVlans: readonly string[];
}

/** What a port lacks or has. */
export interface Note {
  readonly kind: 'without' | 'carries';
  readonly vlans: readonly Vlan[];
}

export function words({ link, carriedBy, missing, lost, cut, cutVlans }: Facts): FindingWords<Note> {
  const said = carriedBy === 'link';
  const count = lost.length;
  return {
    what: `on link ${linkLabel(link)}, ${missing.map(({ port, vlans }) => `${portLabel(port)} does not carry ${namesOf(vlans)}`).join(', and ')}, which ${said ? 'the link is said to carry' : 'the other end does'}`,
    onAir: onAir(cut, cutVlans),
    fix:
      missing.map(({ port, vlans }) => `add ${namesOf(vlans)} to ${portLabel(port)}`).join(', ') +
      `; or take ${agree(count, 'it', 'them')} off ${said ? 'the link' : 'the other end'} where ${agree(count, 'it is', 'they are')} not meant to pass`,
    label: (name, { kind, vlans }) => `${name}: ${kind} ${namesOf(vlans)}`,
  };
}

function namesOf(vlans: readonly Vlan[]): string {
  return listNames(vlans.map(({ name }) => name));
}

function onAir(cut: Cut, vlans: readonly string[]): string {
  const names = listNames(vlans);
  switch (cut) {
    case 'apart':
      return `nothing in ${names} gets over this link: streams that have to are black or silent behind it from the start, whoever stays on one side sees nothing wrong`;
    case 'unplaced':
      return `nothing in ${names} gets over this link; the plan does not say where all of it is plugged in: streams that have to pass are black or silent behind the link from the start`;
    case 'joined':
      return `nothing while ${names} ${agree(vlans.length, 'has', 'have')} another path and the spanning tree keeps it open; once that fails, this link does not take over, and what is behind it goes black or silent`;
    case 'one side':
      return `nothing today: the plan has nothing in ${names} on one side of the link; what is plugged in there later gets no streams`;
  }
}
