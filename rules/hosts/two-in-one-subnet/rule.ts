import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  formatPrefix,
  inRig,
  mark,
  noted,
  ownerLabel,
  type Interface,
} from '../../../src/doors/rule.js';
import { areSeveral, meetingInterfaces } from '../../../src/doors/hosts.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, 'move'>({
  id: 'hosts/two-in-one-subnet',
  summary: 'Two interfaces of one device are in one subnet',
  severity: 'error',
  sources: [
    clause('RFC 1122', '3.3.4.2'),
    clause('RFC 3376', '3.2'),
    commonPractice('one subnet for each interface of a device'),
  ],
  needs: ['addresses'],
  brief: 'two interfaces in one subnet',
  *check({ plan }) {
    for (const device of plan.devices) {
      for (const { interfaces, where } of meetingInterfaces(device)) {
        const sorted = byLabel(interfaces, ownerLabel);
        if (!areSeveral(sorted)) continue;
        const [first, second, ...rest] = sorted;
        const names = sorted.map((one) => one.name);
        yield {
          subject: `${device.name} ${names.join(', ')}${inRig(device.rig)}`,
          parties: sorted.map(ownerLabel),
          facts: {
            device,
            interfaces: names,
            where: where === undefined || 'vlan' in where ? where : { subnet: formatPrefix(where.subnet) },
          },
          at: noted(mark(second, ownerLabel(second), keyOf(second)), 'move'),
          others: [first, ...rest].map((one) => mark(one, ownerLabel(one), keyOf(one))),
          touch: { kind: 'device', name: device.name },
        };
      }
    }
  },
  words,
});

function keyOf(one: Interface): string {
  return one.address !== undefined ? 'address' : one.address6 !== undefined ? 'address6' : 'vlan';
}
