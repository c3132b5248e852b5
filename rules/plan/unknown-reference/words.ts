import {
  agree,
  listNames,
  listOr,
  referrerLabel,
  type FindingWords,
  type Referrer,
  type WantedThing,
} from '../../../src/lint/rule.js';

interface Thing {
  readonly thing: WantedThing;
  /** Name of the device or switch that should have it. */
  readonly owner: string | undefined;
}

export interface Facts extends Thing {
  /** The name as written. */
  readonly text: string;
  /** What refers to it. */
  readonly by: readonly Referrer[];
  /** Names it may have meant. */
  readonly meant: readonly string[];
}

export function words({ thing, owner, text, by, meant }: Facts): FindingWords<never> {
  const wanted = thingWords({ thing, owner }, `\`${text}\``);
  const either = listOr(
    meant.map((name) => `\`${name}\``),
    meant.length,
  );
  return {
    what: `${listNames(by.map(referrerLabel))} ${agree(by.length, 'refers', 'refer')} to ${wanted}, which is not in the plan${meant.length === 0 ? '' : `; did you mean ${either}?`}`,
    onAir: ON_AIR[thing],
    fix:
      meant.length === 0
        ? `write down ${wanted}, or correct the name`
        : `write ${either}, or write down ${wanted} if it is another one`,
  };
}

/** `port 12 of switch red-start`, `VLAN red-vidoe`. */
export function thingWords({ thing, owner }: Thing, text: string): string {
  const whose = owner === undefined ? '' : ` of ${thing === 'port' ? 'switch ' : ''}${owner}`;
  return `${thing} ${text}${whose}`;
}

const TAKEN = 'the receiver is connected to whatever sounds right, or to nothing: the wrong stream arrives, or none';
const PLUGGED =
  'the cable goes into whatever port is free: nobody knows in which VLAN, and no rule here can check the path';

const ON_AIR: Readonly<Record<WantedThing, string>> = {
  VLAN: 'whoever sets up the port or the host takes the VLAN that sounds right: nothing arrives, or it arrives in the wrong place',
  network:
    'what this name ties together is not tied: it gets configured on site from memory, and no rule here can check it',
  device: TAKEN,
  stream: TAKEN,
  sender: TAKEN,
  switch: PLUGGED,
  port: PLUGGED,
  interface: 'nobody knows on which network the stream goes out or comes in: it may be missing on one leg, or on both',
  format: 'sender and receiver are set from memory: a receiver set to another format shows nothing or garbage',
  'device kind':
    'everything the kind would give this device is missing from the plan: its interfaces, its streams, and all checks of them',
  'switch or device':
    'the box meant to query or to route is set up by nobody: groups time out after minutes, or never leave their VLAN',
};
