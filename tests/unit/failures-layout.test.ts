/** The failure table on queriers and links, as CSV, as JSON, and how it is laid out. */
import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { loadPlan } from '../../src/plan/load.js';
import { buildFailureTable } from '../../src/model/explain/failure-table.js';
import { csvCell } from '../../src/draw/csv.js';
import { escapeText } from '../../src/page/escape.js';
import { reportFailuresCsv, reportFailuresJson, reportFailuresText } from '../../src/reporters/failures.js';
import { measure } from '../../src/draw/width.js';
import { hostileModel, modelOf, DUNLIN_SMALL } from '../tools/network-plans.js';
import { HOSTILE_TEXTS } from '../tools/report-samples.js';
import { PLAIN, validate, HERON_SMALL, resultOf, asked } from '../tools/failure-texts.js';

describe('the table on queriers and links', () => {
  const { rows } = buildFailureTable(modelOf(HERON_SMALL));

  it('memberships end a membership interval (RFC 3376 §8.4) after the last report, which may still answer a query (§8.3)', () => {
    const ends = rows.flatMap((row) =>
      row.queriersLost.map(({ vlan, withinS }) => [row.element.name, vlan.name, withinS]),
    );
    // The defaults of §8.1 to §8.3, and a query interval of 60 s.
    expect(ends).toEqual([
      ['red-core', 'red-video', 2 * 125 + 10 + 10],
      ['blue-core', 'blue-video', 2 * 60 + 10 + 10],
    ]);
  });

  it('the loss of a link in a ring overloads the way that is left', () => {
    expect(
      rows.flatMap((row) =>
        row.overloads.map(({ links, rateBps, loadBps }) => [
          row.element.name,
          links.map((link) => link.name),
          rateBps,
          loadBps > rateBps,
        ]),
      ),
    ).toEqual([
      ['R1', ['R2'], 1e9, true],
      ['R1', ['R3'], 1e9, true],
    ]);
  });
});

describe('layout', () => {
  it('keeps to any width from 40 to 200', () => {
    for (const model of [modelOf(HERON_SMALL), modelOf(DUNLIN_SMALL)]) {
      for (let width = 40; width <= 200; width += 4) {
        for (const result of [resultOf(model, { all: true }), asked(model, 'cam-11', 'tower', 'R1')]) {
          for (const line of reportFailuresText(result, { ...PLAIN, width }).split('\n'))
            expect(measure(line), line).toBeLessThanOrEqual(width);
        }
      }
    }
  });

  it('colour repeats what words say', () => {
    const result = resultOf(modelOf(HERON_SMALL));
    const coloured = reportFailuresText(result, { ...PLAIN, colour: true });
    expect(coloured).toMatch(/\u001b\[/);
    expect(coloured.replace(/\u001b\[\d+m/g, '')).toBe(reportFailuresText(result, PLAIN));
  });

  it('no name reaches a terminal or spreadsheet raw', () => {
    for (const hostile of HOSTILE_TEXTS) {
      const name = (word: string): string => `${word}${hostile.replaceAll('/', ' ')}`;
      const model = hostileModel(
        HERON_SMALL,
        /^(vision|red-core|R1|red-video|towpath duct|cam-11|video|in-11|start-mains)$/,
        name,
      );
      for (const shown of [
        reportFailuresText(resultOf(model, { all: true }), PLAIN),
        reportFailuresText(asked(model, name('cam-11'), name('red-core')), PLAIN),
        reportFailuresCsv(resultOf(model, { all: true })).replaceAll('\r\n', '\n'),
      ]) {
        expect(shown).toContain(escapeText(name('cam-11')).replaceAll('"', '""'));
        expect(shown.replaceAll('\n', '')).not.toMatch(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Cs}]/u);
        expect(shown).not.toMatch(/^ERROR forged/m);
      }
    }
  });
});

describe('CSV', () => {
  it.each(['=1+1', '+1', '-1', '@SUM(A1)', '  =1', '\t=1', '＝1+1', '＋1', '－1', '＠a', '=cmd|"/C calc"!A0'])(
    '%s stays text',
    (formula) => {
      const [[cell]] = parse(csvCell(formula)) as [[string]];
      expect(cell).toMatch(/^(?:'|\\u\{9\})/);
      expect(cell).not.toMatch(/^[\s=+\-@＝＋－＠]/);
    },
  );

  it('is RFC 4180 §2 for any text: a reader gives back what escaping shows', () => {
    fc.assert(
      fc.property(fc.array(fc.string({ unit: 'binary' }), { minLength: 1, maxLength: 5 }), (texts) => {
        const [row = []] = parse(`${texts.map(csvCell).join(',')}\r\n`, { bom: false });
        expect(row.map((cell) => cell.replace(/^'(?=\s*[=+\-@＝＋－＠])/, ''))).toEqual(
          texts.map((text) => escapeText(text).replace(/^'(?=\s*[=+\-@＝＋－＠])/, '')),
        );
      }),
    );
  });

  it('has the numbers of the JSON', () => {
    const result = resultOf(modelOf(HERON_SMALL), { all: true });
    const rows = parse<Record<string, string>>(reportFailuresCsv(result), { columns: true });
    const { failures } = JSON.parse(reportFailuresJson(result, PLAIN)) as {
      readonly failures: readonly Record<'name' | 'lost' | 'lostInPart' | 'fewerLegs', { readonly length: number }>[];
    };
    // What was not judged comes after them, without a rank.
    const ranked = rows.filter((row) => row['rank'] !== '');
    expect(rows.slice(ranked.length).map((row) => row['kind'])).toContain('not judged');
    expect(
      ranked.map((row) => [
        row['element'],
        row['streams lost'],
        row['streams lost in part'],
        row['streams on one leg'],
      ]),
    ).toEqual(
      failures.map((one) => [
        one.name,
        String(one.lost.length),
        String(one.lostInPart.length),
        String(one.fewerLegs.length),
      ]),
    );
  });
});

describe('JSON', () => {
  it('keeps to its schema', () => {
    for (const plan of [HERON_SMALL, DUNLIN_SMALL]) {
      const model = modelOf(plan);
      for (const result of [
        resultOf(model),
        resultOf(model, { all: true }),
        asked(model, 'red-core', 'ups-a', 'tower'),
      ]) {
        validate(JSON.parse(reportFailuresJson(result, PLAIN)));
        expect(validate.errors).toBeNull();
      }
    }
    const { problems } = loadPlan([{ name: 'plan.yaml', text: 'devices: 3\n' }]);
    validate(JSON.parse(reportFailuresJson({ table: undefined, problems, all: false }, PLAIN)));
    expect(validate.errors).toBeNull();
    expect(validate({ format: 1 })).toBe(false);
  });
});
