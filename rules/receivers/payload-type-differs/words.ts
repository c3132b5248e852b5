import { agree, listNames, nothingOf, type FindingWords } from '../../../src/doors/rule.js';
import type { ClashFacts, ClashNote } from '../clash.js';

export function words({ stated, sent, receivers, senders }: ClashFacts): FindingWords<ClashNote> {
  return {
    what:
      `${listNames(receivers.map((one) => one.label))} ${agree(receivers.length, 'expects', 'expect')} payload type ${stated}, ` +
      `but ${listNames(senders.map((one) => one.label))} ${agree(senders.length, 'is', 'are')} sent with payload type ${sent.join(' and ')}`,
    onAir: `the receiver gets the packets and discards every one: ${nothingOf(senders)}, though the network shows the stream`,
    fix: `set the receiver to payload type ${sent.join(' and ')}, or give it the sender's SDP again`,
    label: (name, { side, value }) =>
      `${name}: ${side === 'receiver' ? 'expects payload type' : 'payload type'} ${value ?? ''}`,
  };
}
