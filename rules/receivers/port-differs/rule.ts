import { clause, defineRule } from '../../../src/doors/rule.js';
import { receiverClashes } from '../../../src/doors/receivers.js';
import { clashFinding, type ClashFacts, type ClashNote } from '../clash.js';
import { words } from './words.js';

export default defineRule<ClashFacts, ClashNote>({
  id: 'receivers/port-differs',
  summary: 'A receiver listens on another UDP port than the stream is sent to',
  severity: 'error',
  sources: [clause('RFC 768', 'Fields'), clause('RFC 3550', '11')],
  needs: ['streamPorts', 'receiverPorts'],
  brief: 'listens on another UDP port',
  explains: ['other UDP port'],
  *check({ plan, model }) {
    for (const clash of receiverClashes(plan, model.reception, 'port')) yield clashFinding(clash, 'port', 'port');
  },
  words,
});
