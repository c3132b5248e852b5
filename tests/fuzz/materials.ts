/** What is mutated: the examples of all rules and of the first steps; and values that are hostile somewhere. */
import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'yaml';
import type { JsonObject, Json } from './json.js';

const PLACES = ['rules', 'examples'];
const SMALL = 12_000;

function exampleFiles(ending: RegExp): readonly string[] {
  return PLACES.flatMap((place) =>
    readdirSync(place, { recursive: true, encoding: 'utf8' })
      .filter((name) => ending.test(name))
      .map((name) => join(place, name)),
  ).sort();
}

export interface Material {
  readonly name: string;
  readonly text: string;
}

export const EXAMPLES: readonly Material[] = exampleFiles(/\.(?:yaml|json|csv|sdp)$/)
  .map((name) => ({ name, text: readFileSync(name, 'utf8') }))
  .filter(({ text }) => text.length < SMALL);

export const PLANS: readonly JsonObject[] = EXAMPLES.filter(({ name }) => /\.(?:yaml|json)$/.test(name))
  .map(({ text }) => parse(text) as JsonObject | null)
  .filter((tree) => tree !== null);

/** A request that is met; the plan to keep clear of lies beside it. */
export const REQUEST: JsonObject = {
  ...(parse(readFileSync('examples/kestrel-bay/finish-island/request.yaml', 'utf8')) as JsonObject),
  keepClear: { plans: ['present.yaml'] },
};

/** Commands to a terminal, formulas, names that lead elsewhere, ends of every number. */
export const HOSTILE: readonly Json[] = [
  '\u001b[2J\u001b]0;x\u0007',
  '\u202egnp.exe',
  'a\nb',
  'a\r\nb',
  '\t',
  '\u0085',
  '\u2028',
  '\ud800',
  '=1+1',
  '@SUM(1)',
  '+1',
  '-1',
  '<script>alert(1)</script>',
  '"',
  "'",
  '`',
  ',;|',
  '{}',
  '*',
  '&a',
  '!!js/function x',
  '__proto__',
  'constructor',
  'toString',
  'hasOwnProperty',
  '',
  ' ',
  '..',
  '../../etc/passwd',
  '/dev/zero',
  'a/b/c',
  'Heron:red',
  ':',
  '/',
  '~',
  'null',
  'yes',
  '0x10',
  '1_000',
  'İıßſ',
  'é',
  'e\u0301',
  '\u{1F3A5}',
  'x'.repeat(300),
  null,
  true,
  false,
  0,
  -0,
  -1,
  1,
  2,
  0.5,
  1e308,
  -1e308,
  5e-324,
  4294967296,
  9007199254740993,
  [],
  {},
  [[]],
  [null],
];

export const ADDRESSES: readonly string[] = [
  '0.0.0.0',
  '255.255.255.255',
  '10.20.1.1',
  '10.20.1.1/24',
  '10.20.1.255/24',
  '10.0.0.0/8',
  '0.0.0.0/0',
  '255.255.255.255/32',
  '127.0.0.1/8',
  '169.254.0.1/16',
  '224.0.0.0/4',
  '224.0.0.1',
  '224.0.1.129',
  '232.1.1.1',
  '239.1.1.1',
  '239.129.1.1',
  '239.255.255.255',
  '239.1.0.0-239.1.0.255',
  '239.1.1.9-239.1.1.1',
  '::',
  '::/0',
  '::1/128',
  '2001:db8::1/64',
  '2001:db8::/127',
  'fe80::1/64',
  'fe80::1%eth0',
  'ff00::/8',
  'ff02::1',
  'ff3e::1234',
  'ff7e:140:2001:db8::1',
  'ffff:ffff:ffff:ffff:ffff:ffff:ffff:ffff/128',
  'c000::/2',
  '::ffff:10.0.0.1',
  '010.1.1.1',
  '10.1.1',
];
