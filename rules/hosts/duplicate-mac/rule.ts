import {
  clause,
  clauseFromMemory,
  defineRule,
  formatMac,
  inRig,
  mark,
  noted,
  rigOf,
  touchOfOwner,
} from '../../../src/doors/rule.js';
import { holderLabel, isLocalMac, macClashes } from '../../../src/doors/hosts.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, 'read-again'>({
  id: 'hosts/duplicate-mac',
  summary: 'Two interfaces have one MAC address',
  severity: 'error',
  people: 'only the labels of the boxes say which entry is wrong',
  sources: [clause('RFC 9542', '2.1'), clauseFromMemory('IEEE 802.1Q-2018', '8.7'), clause('RFC 9568', '7.3')],
  needs: ['macs'],
  brief: 'MAC held twice',
  harm: 'unicast',
  *check({ model }) {
    for (const { mac, stations, meets, assumed } of macClashes(model)) {
      const [first, second, ...rest] = stations;
      const text = formatMac(mac);
      const local = isLocalMac(mac);
      const holders = stations.map(holderLabel);
      yield {
        subject: local ? `${text} on ${holderLabel(first)}${inRig(rigOf(first))}` : text,
        parties: holders,
        severity: meets ? 'error' : 'warning',
        ...(assumed ? { confidence: 'assumed' } : {}),
        facts: { mac: text, holders, meets, local },
        at: noted(mark(second, holderLabel(second), 'mac'), 'read-again'),
        others: [first, ...rest].map((owner) => mark(owner, holderLabel(owner), 'mac')),
        touch: touchOfOwner(second),
      };
    }
  },
  words,
});
