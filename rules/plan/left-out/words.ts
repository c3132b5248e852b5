import { listNames, type FindingWords } from '../../../src/doors/rule.js';
import type { LeftOut } from '../../../src/doors/plan.js';

export interface Facts {
  readonly device: string;
  readonly kind: string;
  /** Devices of the kind, this one too. */
  readonly all: number;
  readonly missing: readonly { readonly what: LeftOut['what']; readonly of: string }[];
  /** A receiver takes a leg that has no destination. */
  readonly taken: boolean;
  /** Entries that stand there under a wrong name. */
  readonly renamed: readonly { readonly name: string; readonly meant: string }[];
  /** What follows from the other numbers of the device as its like have them. */
  readonly values: readonly { readonly what: LeftOut['what']; readonly of: string; readonly value: string | number }[];
}

const NAMES: Readonly<Record<LeftOut['what'], string>> = {
  destination: 'the group',
  'UDP port': 'the UDP port',
  address: 'the address',
  'switch port': 'the switch port',
};

const MOST = 6;

export function words(facts: Facts): FindingWords<never> {
  const { device, kind, all, missing, taken } = facts;
  const gaps = listNames(
    missing.map(({ what, of }) => `${NAMES[what]} of ${of}`),
    MOST,
  );
  return {
    what: `${device} leaves out ${gaps}, which others of the ${all} devices of kind ${kind} state`,
    onAir: taken
      ? 'nobody knows where the leg is sent: whoever takes it stays dark on it'
      : 'the box is set up by guesswork on the day, or keeps what it had: numbers that nobody held against the rest of the plan',
    fix: `${fixWords(facts)}; where it is meant to have none, accept this with a waiver that says why`,
  };
}

function fixWords({ device, missing, renamed, values }: Facts): string {
  const rename = renamed.map(({ name, meant }) => `call its \`${name}\` \`${meant}\``);
  const write = values.map(({ what, of, value }) => `write ${value} as ${NAMES[what]} of ${of}`);
  if (rename.length + write.length === 0) return `write ${missing.length === 1 ? 'it' : 'them'} at ${device}`;
  return `${listNames([...rename, ...write], MOST)}, as its like have it`;
}
