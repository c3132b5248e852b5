import {
  clause,
  defineRule,
  formatAddress,
  heldLabel,
  heldMark,
  heldSubject,
  isIPv4,
  touchOfOwner,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'hosts/wrong-family',
  summary: 'An address is written under the key of the other address family',
  severity: 'note',
  sources: [clause('RFC 791', '3.2'), clause('RFC 4291', '2.2')],
  needs: ['addresses'],
  *check({ model }) {
    for (const held of model.addressing.held) {
      const { owner, address, key } = held;
      if ('switch' in owner || isIPv4(address) === (key === 'address')) continue; // a switch address has one key for both
      const right = key === 'address' ? 'address6' : 'address';
      yield {
        subject: heldSubject(held),
        parties: [heldLabel(held)],
        what: `${formatAddress(address)} of ${heldLabel(held)} is an ${key === 'address' ? 'IPv6' : 'IPv4'} address, but stands under \`${key}\``,
        at: heldMark(held, `belongs under \`${right}\``),
        onAir: 'nothing; every rule judges the address by what it is, yet whoever looks for it finds the wrong family',
        fix: `write it under \`${right}\``,
        touch: touchOfOwner(owner),
      };
    }
  },
});
