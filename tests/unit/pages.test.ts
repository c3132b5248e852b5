/** Pages of every report: any drawing of them shows what the text report shows, for all of it is in the page. */
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import portOverload from '../../rules/capacity/port-overload/rule.js';
import { RULES } from '../../rules/index.js';
import { rateFormat } from '../../src/answers/rate.js';
import { comparePlans } from '../../src/compare/compare.js';
import { drawText } from '../../src/draw/text.js';
import { lintInputs } from '../../src/lint/lint.js';
import { FORMATS_SAID } from '../../src/media/format-forms.js';
import { loadPlan } from '../../src/plan/load.js';
import { mergeRigs } from '../../src/merge/merge.js';
import { buildFailureTable, elementsOf } from '../../src/model/explain/failure-table.js';
import { buildTrace } from '../../src/model/explain/trace.js';
import { createModel } from '../../src/model/model.js';
import { namedLosses } from '../../src/model/timing/failover.js';
import type { Page } from '../../src/page/page.js';
import { readInputs } from '../../src/edge/files.js';
import { fullnessPage, refusalsPage } from '../../src/report/allocation/page.js';
import { diffPage } from '../../src/report/change/diff-page.js';
import { clocksPage } from '../../src/report/clocks/page.js';
import { crewTables, SHEETS } from '../../src/report/crew/index.js';
import { delayPage } from '../../src/report/delay/page.js';
import { failuresPage } from '../../src/report/failures/page.js';
import { timelinePage } from '../../src/report/timeline/page.js';
import { buildTimeline, losables } from '../../src/model/timeline/index.js';
import { lintPage } from '../../src/report/lint/page.js';
import { mergePage } from '../../src/report/merge/page.js';
import { problemsPage } from '../../src/report/problems.js';
import { formsPage } from '../../src/report/rate/forms-page.js';
import { ratePage } from '../../src/report/rate/page.js';
import { rulesPage } from '../../src/report/rules/list-page.js';
import { ruleArticle } from '../../src/report/rules/rule-article.js';
import { tracePage } from '../../src/report/trace/page.js';
import { drawOutline } from '../tools/outline-drawer.js';
import { COLLISION, FULL, place } from '../tools/report-samples.js';

const BAY = fileURLToPath(new URL('../../examples/kestrel-bay/', import.meta.url));
const inputsOf = (name: string) => readInputs([BAY + name]).inputs;
const heron = inputsOf('heron');
const broken = inputsOf('heron-broken');
const TODAY = { today: '2026-06-01' };

const model = createModel(loadPlan(broken).plan);
const table = buildFailureTable(model);
const merge = (repair: boolean) =>
  mergeRigs(
    [
      { from: 'heron', inputs: heron },
      { from: 'dunlin', inputs: inputsOf('dunlin') },
    ],
    RULES,
    { ...TODAY, joining: readInputs([`${BAY}join.yaml`]).inputs, repair },
  );

const PAGES: readonly (readonly [string, () => Page])[] = [
  ['lint, all that can be said', () => lintPage(FULL)],
  ['lint', () => lintPage(lintInputs(broken, RULES, TODAY))],
  ['unreadable inputs', () => problemsPage(FULL.problems)],
  [
    'trace',
    () => tracePage({ traces: model.plan.senders.slice(0, 3).map((one) => buildTrace(model, one)), problems: [] }),
  ],
  ['failures', () => failuresPage({ table, problems: [], all: true })],
  [
    'failures of some',
    () => failuresPage({ table, problems: [], all: false, asked: elementsOf(model.plan).slice(0, 9) }),
  ],
  [
    'timelines',
    () =>
      timelinePage({
        timelines: losables(model.plan, model.timing)
          .slice(0, 5)
          .map((one) => buildTimeline(model, one)),
        problems: [],
        all: false,
        blind: ['links'],
      }),
  ],
  ['clocks', () => clocksPage({ timing: model.timing, problems: [], all: false })],
  [
    'clocks after a loss',
    () => {
      const losses = namedLosses(model.plan, model.timing).slice(0, 3);
      return clocksPage({
        timing: model.timing,
        problems: [],
        all: true,
        asked: losses.map((one) => model.timing.without(one)),
      });
    },
  ],
  ['delay', () => delayPage({ delays: model.delays, problems: [], all: true })],
  [
    'delay of some',
    () => delayPage({ delays: model.delays, problems: [], all: false, asked: model.plan.senders.slice(0, 3) }),
  ],
  ['diff', () => diffPage({ comparison: comparePlans(loadPlan(heron).plan, model.plan), problems: FULL.problems })],
  ['merge', () => mergePage(merge(false))],
  ['merge with a repair', () => mergePage(merge(true))],
  [
    'refusals',
    () => {
      const short = { of: 'groups of red', needed: 12, has: 8 };
      const at = ['networks', 'red'];
      const change = { words: 'give red a wider range', path: at, value: '239.10.0.0/16' };
      const refusal = { at, what: 'The range of red is full.', short, location: place(4, '') };
      return refusalsPage([
        { ...refusal, change },
        { ...refusal, change: undefined },
      ]);
    },
  ],
  [
    'fullness',
    () => {
      const row = {
        kind: 'groups' as const,
        what: 'groups of red',
        range: '239.10.0.0/16',
        used: 4,
        of: 256,
        left: 252,
      };
      return fullnessPage({ fullness: [row], notes: ['Two switches query.'], findings: [COLLISION] });
    },
  ],
  [
    'a rate',
    () => {
      const rate = rateFormat('1080p59.94 jpegxs 3bpp');
      return 'rate' in rate ? ratePage(rate) : { blocks: [] };
    },
  ],
  ['forms of formats', () => formsPage(FORMATS_SAID)],
  ['rules', () => rulesPage(RULES)],
  ['a rule', () => ruleArticle(portOverload)],
  [
    'crew sheets',
    () => ({ blocks: crewTables(model.plan).map(({ name, table: sheet }) => ({ heading: name, parts: [sheet] })) }),
  ],
];

/** Without what a drawing adds: rules, bars, hashes, boxes to tick. */
function wordsOf(drawn: string): readonly string[] {
  return drawn.split(/\s+/).filter((word) => !/^[-|#[\]]*$/.test(word));
}

describe('a page', () => {
  it.each(PAGES)('of %s holds every word of the text, in its order, for any drawing', (_, page) => {
    const drawn = wordsOf(drawText(page(), { width: 10_000, colour: false }));
    expect(drawn.length).toBeGreaterThan(5);
    expect(wordsOf(drawOutline(page()))).toEqual(drawn);
  });

  it.each(PAGES)('of %s is plain data', (_, page) => {
    const made = page();
    expect(JSON.parse(JSON.stringify(made))).toEqual(made);
  });

  it('of crew sheets has a table a subject', () => {
    expect(crewTables(model.plan).map(({ name }) => name)).toEqual(SHEETS);
  });
});
