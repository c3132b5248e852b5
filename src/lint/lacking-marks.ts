import { linkLabel, portLabel, type LackingLink } from '../model/vlans/index.js';
import type { Mark } from './finding.js';
import { mark, noted } from './marks.js';

/** The ends of a link to change, or the link itself. */
export function lackingMarks({ link, ports }: LackingLink): readonly Mark<'port' | 'link'>[] {
  if (ports.length === 0) return [noted(mark(link, `link ${linkLabel(link)}`, 'vlans'), 'link')];
  return ports.map(({ port, trunk }) => noted(mark(port, portLabel(port), trunk ? 'trunk' : 'access'), 'port'));
}
