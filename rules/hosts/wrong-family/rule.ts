import {
  clause,
  defineRule,
  heldFact,
  heldLabel,
  heldMark,
  isInterface,
  isIPv4,
  touchOfOwner,
} from '../../../src/doors/rule.js';
import { heldSubject } from '../../../src/doors/hosts.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, 'right-key'>({
  id: 'hosts/wrong-family',
  summary: 'An address is written under the key of the other address family',
  severity: 'note',
  sources: [clause('RFC 791', '3.2'), clause('RFC 4291', '2.2')],
  needs: ['addresses'],
  brief: 'wrong address family',
  harm: 'paper',
  *check({ model }) {
    for (const held of model.addressing.held) {
      const { owner, address, key } = held;
      if (!isInterface(owner) || isIPv4(address) === (key === 'address')) continue; // a switch address has one key for both
      yield {
        subject: heldSubject(held),
        parties: [heldLabel(held)],
        facts: {
          ...heldFact(held),
          family: isIPv4(address) ? 'IPv4' : 'IPv6',
          key,
          rightKey: key === 'address' ? 'address6' : 'address',
        },
        at: heldMark(held, 'right-key'),
        touch: touchOfOwner(owner),
      };
    }
  },
  words,
});
