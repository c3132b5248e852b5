/**
 * Laws of the first page: no line stands above one that leaves more receivers dark, and what a line says goes dark is what
 * verdicts, asked leg by leg, say gets nothing. Over every bad example, the broken rigs of Kestrel Bay, and random faults,
 * one and several at once.
 */
import fc from 'fast-check';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { readInputs } from '../../src/edge/files.js';
import { lintPlan } from '../../src/lint/run.js';
import type { LintResult } from '../../src/lint/result.js';
import { createModel } from '../../src/model/model.js';
import { LACKS } from '../../src/model/verdicts/index.js';
import { plainText } from '../../src/page/phrase.js';
import { loadPlan } from '../../src/plan/load.js';
import type { Plan, Receiver } from '../../src/plan/types.js';
import type { Input } from '../../src/read/index.js';
import { lintJson } from '../../src/report/lint/json.js';
import { lintPage } from '../../src/report/lint/page.js';
import { generatePlan } from '../bench/generate.js';
import { read, ruleFolders } from '../rules/load.js';
import { FAULTS, first, type Plan as RawPlan } from '../tools/faults.js';

interface FindingJson {
  readonly rank: number;
  readonly block: number;
  readonly rule: string;
  readonly subject: string;
  readonly severity: string;
  readonly brief: { readonly of: string; readonly fault: string };
  readonly effect: {
    readonly kind: string;
    readonly dark: readonly string[];
    readonly weakened: readonly string[] | null;
  };
}

interface Judged {
  readonly plan: Plan;
  readonly result: LintResult;
  readonly dark: ReadonlySet<Receiver>;
  readonly ranked: readonly FindingJson[];
}

function judge(inputs: readonly Input[]): Judged {
  const { plan, problems } = loadPlan(inputs);
  expect(problems).toEqual([]);
  const model = createModel(plan);
  const result = lintPlan(plan, RULES, { today: '2026-06-01', model });
  const { findings } = lintJson(result, '0') as { readonly findings: readonly FindingJson[] };
  return {
    plan,
    result,
    dark: darkIn(plan, model.verdicts.fates),
    ranked: findings.toSorted((a, b) => a.rank - b.rank),
  };
}

/** Receivers with legs, all of which are denied: by the bytes of the verdicts (0, the facts that lack, the denials). */
function darkIn({ receiverLegs, receivers }: Plan, fates: Uint8Array): ReadonlySet<Receiver> {
  const denied = new Set(receiverLegs.filter((_, index) => (fates[index] ?? 0) > LACKS.length));
  return new Set(receivers.filter(({ legs }) => legs.length > 0 && legs.every((leg) => denied.has(leg))));
}

function inputsOf(receivers: Iterable<Receiver>): ReadonlySet<object> {
  return new Set([...receivers].map((one) => one.selection ?? one));
}

function holds({ result, dark, ranked }: Judged): void {
  expect(ranked.map(({ rank }) => rank)).toEqual(ranked.map((_, index) => index + 1));

  // How many each leaves dark, from the verdicts and the finding each denied leg names.
  const counts = ranked.map(({ rule, subject }) => {
    const own = (result.receivers?.notDelivered ?? []).filter(
      ({ finding }) => finding?.rule === rule && finding.subject === subject,
    );
    return inputsOf(own.map(({ receiverLeg }) => receiverLeg.receiver).filter((one) => dark.has(one))).size;
  });
  expect(counts).toEqual(counts.toSorted((a, b) => b - a));
  expect(ranked.map(({ effect }) => effect.dark.length)).toEqual(counts);

  // Nobody is called dark who gets something, and whoever gets nothing for a found cause is in a line.
  const said = inputsOf(result.findings.flatMap(({ effect }) => effect.dark));
  expect([...said].filter((one) => !inputsOf(dark).has(one))).toEqual([]);
  const found = new Set(result.findings.map(({ rule, subject }) => `${rule}\n${subject}`));
  const owed = (result.receivers?.notDelivered ?? []).filter(
    ({ finding, receiverLeg }) =>
      finding !== undefined && found.has(`${finding.rule}\n${finding.subject}`) && dark.has(receiverLeg.receiver),
  );
  expect(said).toEqual(inputsOf(owed.map(({ receiverLeg }) => receiverLeg.receiver)));

  // The page has the same lines in the same order, and blocks are numbered as they are first named.
  const lines = linesOf(result);
  expect(lines.map(([number]) => number)).toEqual(ranked.map(({ block }) => String(block)));
  ranked.forEach(({ brief }, index) => {
    expect(lines[index]?.[1]).toContain(plainText([{ role: 'words', text: `${brief.of}: ${brief.fault}` }]));
  });
  const blocks = [...new Set(ranked.map(({ block }) => block))];
  expect(blocks).toEqual(blocks.map((_, index) => index + 1));
}

function linesOf(result: LintResult): readonly (readonly [string, string])[] {
  const [front] = lintPage(result).blocks.filter(({ heading }) => /^\d+ CAUSES? IN/.test(heading ?? ''));
  return (front?.parts ?? []).flatMap((part) =>
    part.kind === 'rows' ? part.rows.map(({ label, texts: [text = []] }) => [label, plainText(text)] as const) : [],
  );
}

const BAY = fileURLToPath(new URL('../../examples/kestrel-bay/', import.meta.url));

describe('the first page', () => {
  it.each(['heron-broken', 'dunlin-broken'])('holds for %s', (name) => {
    const judged = judge(readInputs([BAY + name]).inputs);
    holds(judged);
    expect(judged.ranked.length).toBeGreaterThan(20);
  });

  it('puts the programme that does not reach home among the first two of the broken Heron', () => {
    const { ranked } = judge(readInputs([`${BAY}heron-broken`]).inputs);
    expect(ranked.slice(0, 2)).toContainEqual(
      expect.objectContaining({
        brief: { of: 'home-gateway/programme', fault: 'legs swapped' },
        effect: expect.objectContaining({ kind: 'dark', dark: ['home-gateway/programme'] }) as unknown,
      }),
    );
  });

  it.each(ruleFolders('all').map((folder) => [folder.id, folder] as const))(
    'holds for bad examples of %s',
    (_, folder) => {
      for (const file of folder.files.filter((name) => /^bad(-[a-z0-9-]+)?\.(yaml|json|csv|sdp)$/.test(name))) {
        const beside = folder.files.filter((name) => name.startsWith(`${file.replace(/\.[a-z]+$/, '')}.beside.`));
        holds(judge([file, ...beside].map((name) => ({ name, text: read(folder, name) }))));
      }
    },
  );

  const raw = (streams: number): RawPlan => JSON.parse(JSON.stringify(generatePlan(streams))) as RawPlan;
  const judgeRaw = (plan: RawPlan): Judged => judge([{ name: 'plan.json', text: JSON.stringify(plan) }]);

  it.each(FAULTS.map((one) => [one.fault, one] as const))(
    'tells all that goes dark by one fault: %s',
    (_, { inject }) => {
      fc.assert(
        fc.property(fc.integer({ min: 8, max: 60 }), fc.nat(), (streams, chosen) => {
          const plan = raw(streams);
          const device = plan.devices[1 + (chosen % (plan.devices.length - 1))];
          if (device === undefined) throw new Error('no device');
          expect(judgeRaw(plan).dark.size).toBe(0);
          inject(plan, device, first(plan.devices));
          const judged = judgeRaw(plan);
          holds(judged);
          // Whatever gets nothing now gets it by this fault alone.
          expect(inputsOf(judged.result.findings.flatMap(({ effect }) => effect.dark))).toEqual(inputsOf(judged.dark));
        }),
        { numRuns: 3 },
      );
    },
  );

  it('holds for several faults at once', () => {
    let several = 0;
    fc.assert(
      fc.property(
        fc.integer({ min: 12, max: 80 }),
        fc.array(fc.tuple(fc.nat(), fc.nat(), fc.nat()), { minLength: 2, maxLength: 6 }),
        (streams, faults) => {
          const plan = raw(streams);
          for (const [which, one, other] of faults) {
            const [device, second] = [one, other].map((index) => plan.devices[index % plan.devices.length]);
            if (device !== undefined && second !== undefined)
              FAULTS[which % FAULTS.length]?.inject(plan, device, second);
          }
          const { problems } = loadPlan([{ name: 'plan.json', text: JSON.stringify(plan) }]);
          if (problems.length > 0) return;
          const judged = judgeRaw(plan);
          holds(judged);
          if (judged.ranked.filter(({ effect }) => effect.kind === 'dark').length > 1) several++;
        },
      ),
      { numRuns: 120 },
    );
    expect(several).toBeGreaterThan(5);
  });
});
