import { createEditList, likely } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  isInterface,
  legLabel,
  mapAll,
  mark,
  noted,
  ownerLabel,
  receiverLegLabel,
  touchOf,
} from '../../../src/doors/rule.js';
import { sentElsewhere } from '../../../src/doors/receivers.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'receivers/sent-elsewhere',
  summary: 'A receiver takes a unicast stream that is sent to the address of another box',
  severity: 'error',
  sources: [clause('RFC 1122', '3.2.1.3'), clause('RFC 826', 'Packet Reception')],
  needs: ['unicast', 'addresses', 'receivers'],
  brief: 'sent to another box',
  explains: ['other address'],
  *check({ plan, model }) {
    for (const found of byLabel(sentElsewhere(plan, model.owners), ({ leg }) => legLabel(leg))) {
      const { leg, holders, wanted } = found;
      const address = formatAddress(found.address);
      const takers = byLabel(found.takers, receiverLegLabel);
      const [holder] = byLabel(holders, ownerLabel);
      yield {
        subject: `${legLabel(leg)} to ${address}`,
        parties: [legLabel(leg), ...takers.map(receiverLegLabel)],
        cure: () => {
          const edits = createEditList();
          if (wanted !== undefined) edits.setWhereWritten(leg, 'unicast', formatAddress(wanted));
          return likely(edits, 'which of the boxes is to get the stream');
        },
        facts: {
          leg,
          address,
          holder: ownerLabel(holder),
          takers,
          sameBox: isInterface(holder) && takers.every(({ receiver }) => receiver.device === holder.device),
          rightful: byLabel([...found.rightful], receiverLegLabel),
          wanted: wanted === undefined ? undefined : formatAddress(wanted),
        },
        at: noted(mark(leg, legLabel(leg), 'unicast'), { sentTo: address }),
        others: mapAll(takers, (one) => noted(mark(one, receiverLegLabel(one)), 'takes it')),
        touch: touchOf(leg.sender),
      };
    }
  },
  words,
});
