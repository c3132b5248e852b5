import { linkLabel, portLabel, type FindingWords, type Link, type Port, type Vlan } from '../../../src/doors/rule.js';

/** What one end sends without a tag; nothing where it only tags. */
interface End {
  readonly port: Port;
  readonly vlan: Vlan | undefined;
}

export interface Facts {
  readonly link: Link;
  readonly ends: readonly [End, End];
}

/** How a port carries a VLAN. */
export type Note = 'taggedOnly' | { readonly kind: 'access' | 'native'; readonly vlan: Vlan };

export function words({ link, ends: [a, b] }: Facts): FindingWords<Note> {
  const common = {
    what: `without a tag, ${says(a)} and ${says(b)}, on link ${linkLabel(link)}`,
    label,
  };
  if (a.vlan !== undefined && b.vlan !== undefined)
    return {
      ...common,
      onAir: `the link joins the two VLANs: hosts of ${a.vlan.name} and ${b.vlan.name} hear each other's groups and DHCP answers, and neither VLAN gets over the link to itself`,
      fix: `set both ends to one VLAN: ${a.vlan.name} or ${b.vlan.name}`,
    };
  const only = (a.vlan ?? b.vlan)?.name ?? '';
  return {
    ...common,
    onAir: `what one end sends without a tag the other drops: nothing in ${only} gets over this link`,
    fix: `carry ${only} the same way at both ends, tagged or as the native or access VLAN`,
  };
}

function says({ port, vlan }: End): string {
  return `${portLabel(port)} carries ${vlan === undefined ? 'nothing' : vlan.name}`;
}

function label(name: string, note: Note): string {
  if (note === 'taggedOnly') return `${name}: tagged only`;
  return `${name}: ${note.kind === 'access' ? 'access port of' : 'native VLAN'} ${note.vlan.name}`;
}
