import { clause, defineRule } from '../../../src/doors/rule.js';
import { receiverClashes } from '../../../src/doors/receivers.js';
import { clashFinding, type ClashFacts, type ClashNote } from '../clash.js';
import { words } from './words.js';

export default defineRule<ClashFacts, ClashNote>({
  id: 'receivers/payload-type-differs',
  summary: 'A receiver expects another RTP payload type than the stream is sent with',
  severity: 'error',
  sources: [clause('RFC 3550', '5.1'), clause('RFC 3551', '3')],
  needs: ['payloadTypes', 'receiverPayloadTypes'],
  brief: 'expects another payload type',
  harm: 'spoils',
  *check({ plan, model }) {
    for (const clash of receiverClashes(plan, model.reception, 'payloadType'))
      yield clashFinding(clash, 'payloadType', 'payload type');
  },
  words,
});
