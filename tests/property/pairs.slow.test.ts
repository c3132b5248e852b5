/**
 * Two faults never hide each other: of two random slips at different places of a sound plan, and of the bad examples of two
 * rules as two rigs read together, each is found beside the other as it is found alone. `PAIRS_RUNS` sets how many pairs of
 * each are tried, `PAIRS_SEED` from which number on.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { kept } from '../../src/collections/kept.js';
import { RULES } from '../../rules/index.js';
import { readInputs } from '../../src/edge/files.js';
import type { Finding } from '../../src/lint/finding.js';
import { lintInputs } from '../../src/lint/lint.js';
import { readDocument, type Input } from '../../src/read/index.js';
import { generatePlan } from '../bench/generate.js';
import { foundSlips, hiddenIn, type FoundSlip, type Hidden } from '../tools/hidden.js';
import { createSlips } from '../tools/placed-slips.js';
import { seeded } from '../tools/slips.js';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const RUNS = Number(process.env['PAIRS_RUNS'] ?? 150);
const SEED = Number(process.env['PAIRS_SEED'] ?? 1);
/** Slips that pairs are drawn from, of each plan. */
const POOL = 60;
/** Of thousands of pairs. */
const LONG_MS = 900_000;

/** Where one slip takes away what the other would be judged by. Whoever mends it finds the other with the next lint. */
const EXCEPTIONS: readonly { readonly why: string; readonly holds: (hidden: Hidden) => boolean }[] = [
  {
    why: 'what stood under a name is not judged where the name leads nowhere, or to something else',
    holds: ({ beside }) =>
      sortsOf(beside).some((sort) => /(^|\.)(name|kind)$/.test(sort)) ||
      rulesOf(beside).some((rule) => ['plan/unknown-reference', 'plan/duplicate-name'].includes(rule)),
  },
  {
    why: 'what is held against the conventions is held against other ones',
    holds: ({ beside }) => sortsOf(beside).some((sort) => sort.startsWith('conventions.')),
  },
  {
    why: 'what is held against the block, gateway or network of a VLAN is held against another one',
    holds: ({ beside }) => sortsOf(beside).some((sort) => /^vlans\.(subnet|gateway|network)$/.test(sort)),
  },
  {
    why: 'two values that are held against each other are both changed: they may agree, or differ by one finding',
    holds: ({ own, beside }) => rulesOf(own).some((rule) => rulesOf(beside).includes(rule)),
  },
];

/** The same by the rules that find the two alone: the hidden one, the other. */
const PAIRS: readonly { readonly own: string; readonly beside: string; readonly why: string }[] = [
  { own: 'vlans/not-routed', beside: 'sources/ssm-without-source', why: 'nobody says where the stream is sent' },
  { own: 'vlans/not-routed', beside: 'hosts/wrong-vlan', why: 'as written the stream is sent where it is routed' },
  { own: 'redundancy/one-leg-received', beside: 'hosts/wrong-vlan', why: 'nobody knows which leg its network is' },
  { own: 'igmp/fast-leave-shared-port', beside: 'redundancy/one-leg-received', why: 'nobody else listens at the port' },
  { own: 'timing/clock-unaware-switch', beside: 'links/rate-differs', why: 'the clocks are on another way' },
  { own: 'timing/equal-priorities', beside: 'timing/follower-outranks', why: 'what is compared before decides now' },
  { own: 'groups/outside-conventions', beside: 'hosts/wrong-vlan', why: 'of which network the legs are is not known' },
  { own: 'capacity/port-overload', beside: 'hosts/wrong-vlan', why: 'as written the stream does not get there' },
  { own: 'capacity/port-overload', beside: 'sources/ssm-without-source', why: 'nobody says where the stream is sent' },
  { own: 'timing/follower-outranks', beside: 'timing/transport-mixed', why: 'they do not hear each other' },
  { own: 'timing/transport-mixed', beside: 'timing/follower-outranks', why: 'who leads speaks another transport' },
  {
    own: 'timing/transport-mixed',
    beside: 'timing/domain-differs',
    why: 'the clocks of that transport are in no domain of it',
  },
  {
    own: 'timing/clock-unaware-switch',
    beside: 'timing/domain-differs',
    why: 'no clock of the domain is behind the switch',
  },
  { own: 'ports/rate-differs', beside: 'ports/used-twice', why: 'it is patched to a port of its rate' },
];

describe('two slips', () => {
  const plans: readonly (readonly [string, unknown])[] = [
    ['a generated plan', JSON.parse(JSON.stringify(generatePlan(24))) as unknown],
    ['the plan of the finish island', treeOf('kestrel-bay/finish-island/plan.yaml')],
    ['the routed plan', treeOf('leaf-spine.yaml')],
  ];

  it.each(plans)(
    'in %s',
    (_, tree) => {
      const random = seeded(SEED);
      const next = createSlips(tree);
      const pool = foundSlips(tree, () => next(random), POOL);
      expect(new Set(pool.flatMap(rulesOf)).size).toBeGreaterThan(12);
      const sums = { pairs: 0, excused: 0 };
      const hidden: string[] = [];
      for (let count = 0; count < RUNS; count++) {
        const [a, b] = [pool[random(pool.length)], pool[random(pool.length)]];
        const found = a === undefined || b === undefined ? undefined : hiddenIn(tree, a, b);
        if (found === undefined) continue;
        sums.pairs++;
        for (const one of found) {
          if (isExcused(one)) sums.excused++;
          else
            hidden.push(
              `${one.own.slip.what} (${rulesOf(one.own).join()}) beside ${one.beside.slip.what} (${rulesOf(one.beside).join()})`,
            );
        }
      }
      if (process.env['PAIRS_RUNS'] !== undefined)
        console.log(JSON.stringify(sums), `\n${[...new Set(hidden)].join('\n')}`);
      expect(hidden).toEqual([]);
      expect(sums.pairs).toBeGreaterThan(RUNS / 2);
      // Exceptions stay what they are.
      expect(sums.excused).toBeLessThan(sums.pairs / 10);
    },
    LONG_MS,
  );
});

describe('bad examples of two rules', () => {
  /** Those of one rig that meets no other. */
  const examples = RULES.flatMap(({ id }) => {
    const folder = join(ROOT, 'rules', id);
    return readdirSync(folder)
      .filter((name) => /^bad.*\.yaml$/.test(name))
      .map((name) => ({ id, name: `${id}/${name}`, text: readFileSync(join(folder, name), 'utf8') }))
      .filter(({ text }) => /^rig: Heron$/m.test(text) && !/^joins:/m.test(text));
  });

  it(
    'are found beside each other, as two rigs',
    () => {
      expect(new Set(examples.map(({ id }) => id)).size).toBeGreaterThan(100);
      const random = seeded(SEED);
      const lint = (inputs: readonly Input[]): readonly Finding[] =>
        lintInputs(inputs, RULES, { today: '2026-06-01' }).findings;
      const known = new Map<string, readonly Finding[]>();
      const alone = ({ name, text }: (typeof examples)[number]): readonly Finding[] =>
        kept(known, name, () => lint([{ name, text }]));
      const hidden: string[] = [];
      let pairs = 0;
      for (let count = 0; count < RUNS; count++) {
        const [a, b] = [examples[random(examples.length)], examples[random(examples.length)]];
        if (a === undefined || b === undefined || a === b) continue;
        const inputs = [
          { name: 'a.yaml', text: a.text },
          { name: 'b.yaml', text: b.text.replace(/^rig: Heron$/m, 'rig: Dunlin') },
        ] as const;
        const both = new Set(lint(inputs).flatMap(({ at, others }) => [at, ...others].map(lineOf)));
        pairs++;
        for (const [index, example] of [a, b].entries())
          for (const { rule, at } of alone(example))
            if (
              !both.has(lineOf({ file: index === 0 ? 'a.yaml' : 'b.yaml', line: at.line })) &&
              SETTLED_ELSEWHERE[rule] === undefined
            )
              hidden.push(`${example.name}: ${rule}`);
      }
      if (process.env['PAIRS_RUNS'] !== undefined) console.log(JSON.stringify({ pairs }), `\n${hidden.join('\n')}`);
      expect(pairs).toBeGreaterThan(RUNS / 2);
      expect(hidden).toEqual([]);
    },
    LONG_MS,
  );
});

/** What the other rig may settle. */
const SETTLED_ELSEWHERE: Readonly<Record<string, string>> = {
  'plan/unused-network': 'the other rig uses it by its name',
  'plan/unused-kind': 'the other rig uses it by its name',
  'plan/unused-vlan': 'the other rig uses it by its name',
  'plan/unused-format': 'the other rig uses it by its name',
  'igmp/no-router-port': 'a link of the other rig whose end leads nowhere may join the parts of the VLAN',
  'vlans/no-path': 'a link of the other rig whose end leads nowhere may be the one that is missing',
};

function lineOf({ file, line }: { readonly file: string; readonly line: number }): string {
  return `${file} ${line}`;
}

function rulesOf({ own }: FoundSlip): readonly string[] {
  return [...new Set(own.map(({ finding }) => finding.rule))];
}

/** What the slip changes: `devices.interfaces.address`. */
function sortsOf({ slip }: FoundSlip): readonly string[] {
  return slip.sets.map(({ path }) => path.filter((key) => typeof key === 'string').join('.'));
}

function isExcused(hidden: Hidden): boolean {
  const [mine, theirs] = [rulesOf(hidden.own), rulesOf(hidden.beside)];
  return (
    EXCEPTIONS.some(({ holds }) => holds(hidden)) ||
    PAIRS.some(({ own, beside }) => mine.includes(own) && theirs.includes(beside))
  );
}

function treeOf(name: string): unknown {
  const [input] = readInputs([join(ROOT, 'examples', name)]).inputs;
  const document = input === undefined ? undefined : readDocument(input).document;
  if (document === undefined) throw new Error(`${name} can't be read`);
  return document.value;
}
