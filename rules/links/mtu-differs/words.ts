import {
  agree,
  linkLabel,
  listNames,
  portLabel,
  portRanges,
  type FindingWords,
  type Link,
  type NonEmpty,
  type Port,
  type Switch,
  type Vlan,
} from '../../../src/doors/rule.js';

/** A VLAN is on ports that take less than it promises. */
export interface SmallPorts {
  readonly form: 'vlan';
  readonly vlan: Vlan;
  readonly promisedOctets: number;
  readonly smallestOctets: number;
  readonly places: readonly { readonly switch: Switch; readonly ports: readonly string[] }[];
}

/** One port, or one switch, takes another size than what it is linked to. */
export interface OddEnd {
  readonly form: 'port' | 'switch';
  readonly switch: Switch;
  readonly mtuOctets: number;
  readonly links: NonEmpty<{
    readonly link: Link;
    readonly odd: Port;
    readonly other: Port;
    readonly otherOctets: number;
  }>;
  /** What stands at the other ends, the best to take first. */
  readonly wantedOctets: NonEmpty<number>;
  readonly smallestOctets: number;
  /** Whether the odd end takes less than every other. */
  readonly lowest: boolean;
}

export type Facts = SmallPorts | OddEnd;

/** The MTU written in a place. */
export interface Note {
  readonly mtuOctets: number;
}

export function words(facts: Facts): FindingWords<Note> {
  return {
    ...(facts.form === 'vlan' ? ofVlan(facts) : ofEnd(facts)),
    label: (name, { mtuOctets }) => `${name}: MTU ${mtuOctets}`,
  };
}

function ofVlan({ vlan, promisedOctets, smallestOctets, places }: SmallPorts): FindingWords<Note> {
  const where = places.map((one) => `${one.switch.name} (${agree(one.ports.length, 'port')} ${portRanges(one.ports)})`);
  return {
    what: `VLAN ${vlan.name} promises an MTU of ${promisedOctets}, and is on ports that take less, down to ${smallestOctets}: ${listNames(where)}`,
    onAir: `packets of more than ${smallestOctets} octets are dropped at these ports without a message: the stream is black behind them, while small packets, pings among them, pass`,
    fix: `raise the MTU of these ports to ${promisedOctets} or more, or lower that of the VLAN and of everything that sends in it to ${smallestOctets}`,
  };
}

function ofEnd(facts: OddEnd): FindingWords<Note> {
  const { form, links, wantedOctets, smallestOctets, lowest } = facts;
  const whole = form === 'switch' ? `switch ${facts.switch.name}` : undefined;
  const within = lowest ? `, or keep every packet within ${smallestOctets}` : '';
  return {
    what:
      whole === undefined
        ? `link ${listNames(links.map(({ link }) => linkLabel(link)))} has an MTU of ${facts.mtuOctets} at ${listNames(links.map(({ odd }) => portLabel(odd)))} and of ${wantedOctets.join(' or ')} at ${listNames(links.map(({ other }) => portLabel(other)))}`
        : `${whole} has an MTU of ${facts.mtuOctets}, but at the other end link ${listNames(
            links.map((one) => `${linkLabel(one.link)} has ${one.otherOctets} at ${portLabel(one.other)}`),
            4,
          )}`,
    onAir: `packets of more than ${smallestOctets} octets are dropped here without a message: what sends small packets works, a stream of large ones is black behind ${agree(links.length, 'this link', 'these links')}`,
    fix:
      whole === undefined
        ? `set both ends to ${wantedOctets[0]}${within}`
        : `set ${whole} to ${wantedOctets[0]}${lowest ? within : ', like what it is linked to'}`,
  };
}
