import { createEditList, likely, peopleDecide } from '../../../src/doors/cures.js';
import {
  byLabel,
  commonPractice,
  defineRule,
  entityLabel,
  linkLabel,
  mark,
  noted,
  portLabel,
  type Interface,
  type Port,
  mayCarry,
} from '../../../src/doors/rule.js';
import { portUses, type PortUse } from '../../../src/doors/ports.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, 'elsewhere'>({
  id: 'ports/used-twice',
  summary: 'One switch port is meant for two plugs',
  severity: 'error',
  sources: [commonPractice('one port takes one cable')],
  needs: ['switchPorts'],
  brief: 'port used twice',
  *check({ plan }) {
    const used = portUses(plan);
    if (used === undefined) return;
    for (const [port, use] of used) {
      const interfaces = byLabel(use.interfaces, entityLabel);
      const links = byLabel([...new Set(use.links)], linkLabel);
      if (!(links.length > 0 && interfaces.length > 0) && !needsTwoPlugs(port, interfaces)) continue;
      const marks = [
        ...interfaces.map((one) => mark(one, entityLabel(one), 'port')),
        ...links.map((link) => mark(link, `link ${linkLabel(link)}`, 'ends')),
      ];
      const [first, second, ...rest] = marks;
      if (first === undefined || second === undefined) continue;
      // A link stays where it is; of several hosts the first keeps its port.
      const [moved, kept] = links.length > 0 ? [first, second] : [second, first];
      const users = marks.map(({ label }) => label);
      const free = freePort(port, used);
      yield {
        subject: portLabel(port),
        parties: users,
        cure: () => {
          const edits = createEditList();
          const [keeps, goes, ...more] = interfaces;
          const [link, ...links2] = links;
          if (free === undefined || more.length > 0 || links2.length > 0)
            return peopleDecide('where each of them goes');
          const moves = link === undefined ? goes : keeps;
          const stays = link === undefined ? keeps : undefined;
          const fits = (one: Interface | undefined): boolean => one?.vlan === undefined || mayCarry(free, one.vlan);
          if (!fits(moves) || !fits(stays)) return peopleDecide('where each of them goes');
          if (link === undefined && goes !== undefined) edits.set(goes, 'port', portLabel(free));
          if (link !== undefined && goes === undefined && keeps !== undefined)
            edits.set(keeps, 'port', portLabel(free));
          return likely(edits, 'where each of them goes');
        },
        facts: {
          port,
          users,
          free,
          severalDevices: links.length === 0 && new Set(interfaces.map(({ device }) => device)).size > 1,
        },
        at: noted(moved, 'elsewhere'),
        others: [kept, ...rest],
        touch: { kind: 'switch', name: port.switch.name },
      };
    }
  },
  words,
});

/** Virtual devices of one host share its socket. Several interfaces of one device may share a trunk, or be addresses of one socket; two MACs on an access port are two sockets. */
function needsTwoPlugs(port: Port, interfaces: readonly Interface[]): boolean {
  const hosts = new Set(interfaces.map(({ device }) => device.host ?? device.name));
  if (hosts.size > 1) return true;
  if (interfaces.some(({ device }) => device.host !== undefined)) return false;
  return port.trunk === undefined && new Set(interfaces.flatMap((one) => one.mac ?? [])).size > 1;
}

/** A port written in the same entry that nobody uses. */
function freePort(port: Port, used: ReadonlyMap<Port, PortUse>): Port | undefined {
  const entry = port.origin.container;
  if (entry === port.switch.origin.container) return undefined;
  for (const other of port.switch.ports.values())
    if (other.origin.container === entry && !used.has(other)) return other;
  return undefined;
}
