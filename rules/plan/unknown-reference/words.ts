import { agree, listNames, listOr, type FindingWords } from '../../../src/doors/rule.js';
import { referrerLabel, wantedLabel, type Referrer, type Wanted, type WantedKind } from '../../../src/doors/plan.js';

export interface Facts {
  readonly wanted: Wanted;
  /** The name as written. */
  readonly text: string;
  /** What refers to it. */
  readonly by: readonly Referrer[];
  /** Names it may have meant. */
  readonly meant: readonly string[];
}

export function words({ wanted, text, by, meant }: Facts): FindingWords<never> {
  const thing = wantedLabel(wanted, `\`${text}\``);
  const either = listOr(
    meant.map((name) => `\`${name}\``),
    meant.length,
  );
  return {
    what: `${listNames(by.map(referrerLabel))} ${agree(by.length, 'refers', 'refer')} to ${thing}, which is not in the plan${meant.length === 0 ? '' : `; did you mean ${either}?`}`,
    onAir: ON_AIR[wanted.kind],
    fix:
      meant.length === 0
        ? `write down ${thing}, or correct the name`
        : `write ${either}, or write down ${thing} if it is another one`,
  };
}

const TAKEN = 'the receiver is connected to whatever sounds right, or to nothing: the wrong stream arrives, or none';
const PLUGGED =
  'the cable goes into whatever port is free: nobody knows in which VLAN, and no rule here can check the path';

const ON_AIR: Readonly<Record<WantedKind, string>> = {
  vlan: 'whoever sets up the port or the host takes the VLAN that sounds right: nothing arrives, or it arrives in the wrong place',
  network:
    'what this name ties together is not tied: it gets configured on site from memory, and no rule here can check it',
  device: TAKEN,
  stream: TAKEN,
  sender: TAKEN,
  switch: PLUGGED,
  port: PLUGGED,
  interface: 'nobody knows on which network the stream goes out or comes in: it may be missing on one leg, or on both',
  format: 'sender and receiver are set from memory: a receiver set to another format shows nothing or garbage',
  kind: 'everything the kind would give this device is missing from the plan: its interfaces, its streams, and all checks of them',
  box: 'the box meant to query or to route is set up by nobody: groups time out after minutes, or never leave their VLAN',
};
