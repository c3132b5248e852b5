import { agree, listNames, type FindingWords, type Sender } from '../../../src/doors/rule.js';

export interface Facts {
  readonly senders: readonly Sender[];
  /** Nothing says that they are sent by RTP. */
  readonly assumed: boolean;
  /** UDP ports. */
  readonly ports: readonly number[];
}

/** Places are noted with their port. */
export function words({ senders, assumed, ports }: Facts): FindingWords<number> {
  return {
    what:
      `${listNames(senders.map((sender) => sender.label))} ${agree(senders.length, 'is', 'are')} sent to UDP port ${listNames(ports.map(String))}: ` +
      `odd ports are for the control packets (RTCP) of the port below${assumed ? `; that ${agree(senders.length, 'it is', 'they are')} RTP is assumed` : ''}`,
    onAir:
      'some receivers round an odd port down and listen one port too low: the stream plays on one make and not on another',
    fix: `use an even port, ${listNames(ports.map((port) => String(port - 1)))} for example, and set the receivers likewise`,
    label: (name, port) => `${name}: port ${port}`,
  };
}
