import { certainly, createEditList, peopleDecide } from '../../../src/doors/cures.js';
import {
  clause,
  defineRule,
  heldFact,
  heldLabel,
  heldMark,
  isInterface,
  isIPv4,
  touchOfOwner,
  formatAddress,
  type Address,
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
        cure: () => {
          const right = key === 'address' ? 'address6' : 'address';
          const edits = createEditList();
          edits.set(owner, right, written(address, key === 'address' ? owner.prefixLength : owner.prefixLength6));
          // Where the other one is of the wrong family too, the two change places.
          const other = owner[right];
          if (other === undefined) edits.remove(owner, key);
          else if (isIPv4(other) === (right === 'address')) return peopleDecide('which of its two addresses is meant');
          else edits.set(owner, key, written(other, key === 'address' ? owner.prefixLength6 : owner.prefixLength));
          return certainly(edits);
        },
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

function written(address: Address, length: number | undefined): string {
  return `${formatAddress(address)}${length === undefined ? '' : `/${length}`}`;
}
