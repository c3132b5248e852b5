import { legLabel, listNames, type FindingWords, type Leg, type NonEmpty } from '../../../src/doors/rule.js';

export interface Facts {
  readonly legs: NonEmpty<Leg>;
  readonly address: string;
  readonly port: number;
  /** A port nothing else is sent to there. */
  readonly free: number | undefined;
}

/** Places are noted with the port. */
export function words({ legs, address, port, free }: Facts): FindingWords<string> {
  const names = listNames(legs.map(legLabel));
  const [{ sender }] = legs;
  const oneStream = legs.every((leg) => leg.sender === sender);
  const other = free === undefined ? 'another port' : `another port, ${free} for one`;
  return {
    what: `${names} are sent to one address and UDP port, ${address} port ${port}`,
    onAir: oneStream
      ? 'both legs end in one input of one interface: what takes that interface takes both, and a receiver that cannot tell them apart plays every packet twice or none'
      : 'the receiver gets the packets of all of them in one input and cannot tell them apart: picture and sound jump between them or break up as soon as two are on',
    fix: oneStream
      ? `send the second leg to the other interface of the receiver, or to ${other}`
      : `send all but one of them to ${other}, and let the receiver listen there`,
    label: (name, to) => `${name}: sent to port ${to}`,
  };
}
