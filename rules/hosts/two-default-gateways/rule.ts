import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  inRig,
  isIPv4,
  mark,
  noted,
  ownerLabel,
  type Interface,
} from '../../../src/doors/rule.js';
import { areSeveral, reachesGateway } from '../../../src/doors/hosts.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, 'doubt'>({
  id: 'hosts/two-default-gateways',
  summary: 'A device has gateways on two interfaces',
  severity: 'warning',
  sources: [clause('RFC 1122', '3.3.1.2'), clause('RFC 1122', '3.3.4.2')],
  needs: ['hostGateways'],
  brief: 'two gateways',
  *check({ plan }) {
    for (const device of plan.devices) {
      if (device.routes || device.interfaces.length < 2) continue;
      for (const family of ['IPv4', 'IPv6'] as const) {
        const ways = byLabel(
          device.interfaces.flatMap((one) => wayOut(one, family)),
          ({ one }) => ownerLabel(one),
        );
        if (!areSeveral(ways)) continue;
        const [first, second, ...rest] = ways;
        yield {
          subject: `${device.name}, ${family}${inRig(device.rig)}`,
          parties: [device.name, ...ways.map(({ gateway }) => gateway)],
          facts: { device, gateways: ways.map(({ one, gateway }) => ({ gateway, interface: one.name })) },
          at: noted(mark(second.one, ownerLabel(second.one), 'gateway'), 'doubt'),
          others: [first, ...rest].map(({ one }) => mark(one, ownerLabel(one), 'gateway')),
          touch: { kind: 'device', name: device.name },
        };
      }
    }
  },
  words,
});

/** A gateway the interface cannot reach is `hosts/gateway-differs`'s to say. */
function wayOut(
  one: Interface,
  family: 'IPv4' | 'IPv6',
): readonly { readonly one: Interface; readonly gateway: string }[] {
  const { gateway } = one;
  if (gateway === undefined || isIPv4(gateway) !== (family === 'IPv4') || !reachesGateway(one, gateway)) return [];
  return [{ one, gateway: formatAddress(gateway) }];
}
