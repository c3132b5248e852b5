import { agree, listNames, nothingOf, type FindingWords } from '../../../src/doors/rule.js';
import type { ClashFacts, ClashNote } from '../clash.js';

export function words({ stated, sent, receivers, senders }: ClashFacts): FindingWords<ClashNote> {
  return {
    what:
      `${listNames(receivers.map((one) => one.label))} ${agree(receivers.length, 'listens', 'listen')} on UDP port ${stated}, ` +
      `but ${listNames(senders.map((one) => one.label))} ${agree(senders.length, 'is', 'are')} sent to port ${sent.join(' and ')}`,
    onAir: `the group arrives at the device, but no program listens on its port: ${nothingOf(senders)}, though the network shows the stream`,
    fix: `set the receiver to port ${sent.join(' and ')}`,
    label: (name, { side, value }) => `${name}: ${side === 'receiver' ? 'listens on port' : 'port'} ${value ?? ''}`,
  };
}
