import {
  agree,
  listNames,
  nothingOf,
  type FindingWords,
  type NonEmpty,
  type Sender,
  type Vlan,
} from '../../../src/doors/rule.js';
import { elementLabel, sharedLabel, type NamedElement, type SharedNote } from '../../../src/doors/redundancy.js';

export type Facts = InterfaceFacts | VlanFacts | ElementFacts;

/** Both legs on one interface, while the device has others. */
interface InterfaceFacts {
  readonly form: 'interface';
  /** Senders and receivers. */
  readonly streams: readonly string[];
  /** Name of the interface. */
  readonly via: string;
  /** Number of the leg to move, from 1, and the interfaces it could be on. */
  readonly leg: number;
  readonly free: NonEmpty<string>;
  /** What is lost with the interface. */
  readonly carries: readonly Pick<Sender, 'essence' | 'format'>[];
}

/** Both legs in one VLAN. */
interface VlanFacts {
  readonly form: 'vlan';
  readonly streams: readonly string[];
  readonly vlan: Vlan;
}

/** Boxes, cables, ducts or feeds that both legs depend on, all of which take the same. */
interface ElementFacts {
  readonly form: 'element';
  readonly elements: NonEmpty<NamedElement>;
  readonly streams: NonEmpty<Sender>;
  readonly receivers: readonly string[];
}

export type Note = SharedNote | { readonly via: string } | { readonly vlan: string };

export function words(facts: Facts): FindingWords<Note> {
  return { ...wordsOf(facts), label };
}

function label(name: string, note: Note): string {
  if ('via' in note) return `${name}: on ${note.via} too`;
  return 'vlan' in note ? `${name}: in VLAN ${note.vlan} too` : sharedLabel(name, note);
}

function wordsOf(facts: Facts): FindingWords {
  switch (facts.form) {
    case 'interface':
      return {
        what: `both legs of ${listNames(facts.streams)} are on interface ${facts.via}`,
        onAir: `nothing until the cable or port of this interface fails; then both copies are gone at once: ${nothingOf(facts.carries)}`,
        fix: `put leg ${facts.leg} on ${listNames(facts.free)}`,
      };
    case 'vlan':
      return {
        what: `both legs of ${listNames(facts.streams)} are in VLAN ${facts.vlan.name}`,
        onAir:
          'nothing until something goes wrong in this VLAN: a storm, a lost querier or a new spanning tree stops both copies at once',
        fix: 'put the second legs into a VLAN of the other network',
      };
    case 'element':
      return elementWords(facts);
  }
}

function elementWords({ elements, streams, receivers }: ElementFacts): FindingWords {
  const [first, ...rest] = elements;
  const names = streams.map(({ label }) => label);
  const all = listNames(elements.map(elementLabel), 5);
  return {
    what: `both legs of ${listNames(names, 5)} depend on ${all} on the path to ${listNames(receivers, 5)}`,
    onAir: `nothing until ${rest.length === 0 ? elementLabel(first) : 'one of them'} fails; then ${nothingOf(streams)} of ${agree(names.length, 'this stream', `these ${names.length} streams`)} arrives, despite the two legs`,
    fix: fixWords(first, all),
  };
}

function fixWords({ kind, name }: NamedElement, all: string): string {
  switch (kind) {
    case 'risk':
      return `run the cables of one network by another route than ${name}`;
    case 'power feed':
      return `put the switches of one network on another feed than ${name}, or give them a second one`;
    case 'device':
      return `route the second legs by another router than ${name}`;
    case 'switch':
    case 'link':
    case 'interface':
      return `patch and carry one leg of each by switches and links of the other network, past ${all}`;
  }
}
