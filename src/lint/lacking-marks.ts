import { lackingAt, linkLabel, portLabel } from '../model/vlans/index.js';
import type { Link, Vlan } from '../plan/types.js';
import type { Mark } from './finding.js';
import { mark, noted } from './marks.js';

/** What to change where a link does not carry a VLAN: its ends, or the link itself. */
export function lackingMarks(link: Link, vlan: Vlan): readonly Mark<'port' | 'link'>[] {
  const { ports } = lackingAt(link, vlan);
  if (ports.length === 0) return [noted(mark(link, `link ${linkLabel(link)}`, 'vlans'), 'link')];
  return ports.map(({ port, trunk }) => noted(mark(port, portLabel(port), trunk ? 'trunk' : 'access'), 'port'));
}
