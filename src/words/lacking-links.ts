import { byLabel } from '../collections/order.js';
import { linkLabel, portLabel, type LackingLink } from '../model/vlans/index.js';

/** The lists that lack the VLAN: `the trunk at core/5`, or the link's own. */
export function listsWithout({ link, ports, said }: LackingLink): readonly string[] {
  const own = `the \`vlans\` of link ${linkLabel(link)}`;
  const lists = ports.map(({ port, trunk }) => `${trunk ? 'the trunk' : 'a trunk'} at ${portLabel(port)}`);
  return byLabel(said || ports.length === 0 ? [...lists, own] : lists, (list) => list);
}
