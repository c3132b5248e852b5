import { agree, listNames, listOr, type FindingWords, type NonEmpty } from '../../../src/doors/rule.js';
import {
  referrerLabel,
  wantedLabel,
  wantedLabels,
  type Referrer,
  type Wanted,
  type WantedKind,
} from '../../../src/doors/plan.js';

export interface Facts {
  readonly wanted: Wanted;
  /** As written: one name, or many of one sort. */
  readonly names: NonEmpty<string>;
  /** What refers to it. */
  readonly by: readonly Referrer[];
  /** Names it may have meant. */
  readonly meant: readonly string[];
  /** What most likely had the name: the one thing of its sort that nobody refers to. */
  readonly renamed: string | undefined;
}

export function words({ wanted, names, by, meant, renamed }: Facts): FindingWords<never> {
  const quoted = names.map((name) => `\`${name}\``);
  const who = `${listNames(by.map(referrerLabel))} ${agree(by.length, 'refers', 'refer')}`;
  if (names.length > 1) {
    return {
      what: `${who} to ${names.length} ${wantedLabels(wanted)} that are not in the plan: ${listNames(quoted)}`,
      onAir: ON_AIR[wanted.kind],
      fix: 'so many are no slips: give the file that writes them down along with this one, or write them down',
    };
  }
  const thing = wantedLabel(wanted, quoted.join(''));
  const either = listOr(
    meant.map((name) => `\`${name}\``),
    meant.length,
  );
  return {
    what: `${who} to ${thing}, which is not in the plan${meant.length === 0 ? '' : `; did you mean ${either}?`}`,
    onAir: ON_AIR[wanted.kind],
    fix:
      renamed !== undefined
        ? `call \`${renamed}\`, which nothing refers to, ${quoted.join('')}, or write down ${thing}`
        : meant.length === 0
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
