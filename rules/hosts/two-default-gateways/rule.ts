import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  inPrefix,
  inRig,
  isIPv4,
  listNames,
  mark,
  networkOf,
  ownerLabel,
  subnetFor,
  type Interface,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'hosts/two-default-gateways',
  summary: 'A device has gateways on two interfaces',
  severity: 'warning',
  sources: [clause('RFC 1122', '3.3.1.2'), clause('RFC 1122', '3.3.4.2')],
  needs: ['hostGateways'],
  *check({ plan }) {
    for (const device of plan.devices) {
      if (device.routes || device.interfaces.length < 2) continue;
      for (const four of [true, false]) {
        const interfaces = byLabel(
          device.interfaces.filter((one) => reaches(one, four)),
          ownerLabel,
        );
        const [first, second, ...rest] = interfaces;
        if (first === undefined || second === undefined) continue;
        const names = interfaces.map((one) => `${formatAddress(one.gateway ?? 0)} on ${one.name}`);
        yield {
          subject: `${device.name}, ${four ? 'IPv4' : 'IPv6'}${inRig(device.rig)}`,
          parties: [device.name, ...interfaces.map((one) => formatAddress(one.gateway ?? 0))],
          what: `${device.name} has ${interfaces.length} gateways: ${listNames(names)}`,
          at: mark(second, `${ownerLabel(second)}: does this interface need a gateway?`, 'gateway'),
          others: [first, ...rest].map((one) => mark(one, ownerLabel(one), 'gateway')),
          onAir:
            'what leaves the subnet takes either way, and answers come back the other: control from outside works until a restart, then does not',
          fix: 'keep the gateway of the interface that is controlled from outside, most often the control one, and leave it out at the others',
          touch: { kind: 'device', name: device.name },
        };
      }
    }
  },
});

/** A gateway the interface cannot reach is `hosts/gateway-differs`'s to say. */
function reaches(one: Interface, four: boolean): boolean {
  const { gateway, vlan } = one;
  if (gateway === undefined || isIPv4(gateway) !== four) return false;
  const address = [one.address, one.address6].find((held) => held !== undefined && isIPv4(held) === isIPv4(gateway));
  const stated = vlan === undefined ? undefined : subnetFor(vlan, gateway);
  if (stated !== undefined) return inPrefix(gateway, stated);
  const length = address === one.address ? one.prefixLength : one.prefixLength6;
  return address === undefined || length === undefined || networkOf(gateway, length) === networkOf(address, length);
}
