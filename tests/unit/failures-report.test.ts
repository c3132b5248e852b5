/** What each single failure takes: ranking, reports, what could not be judged. */
import { Ajv } from 'ajv';
import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { loadPlan } from '../../src/plan/load.js';
import { createModel, type Model } from '../../src/model/model.js';
import { buildFailureTable, elementsOf, takesOffAir } from '../../src/model/explain/failure-table.js';
import { readInputs } from '../../src/edge/files.js';
import { csvCell } from '../../src/draw/csv.js';
import { escapeText } from '../../src/page/escape.js';
import { reportFailuresCsv, reportFailuresJson, reportFailuresText } from '../../src/reporters/failures.js';
import type { FailuresResult } from '../../src/answers/failures.js';
import { measure } from '../../src/draw/width.js';
import { hostileModel, modelOf, OSPREY_SMALL } from '../tools/network-plans.js';
import { HOSTILE_TEXTS } from '../tools/report-samples.js';

const HERON = fileURLToPath(new URL('../../examples/kestrel-bay/heron', import.meta.url));
const PLAIN = { version: '0.1.0', width: 90, colour: false };
const SCHEMA = JSON.parse(
  readFileSync(new URL('../../schemas/failures.schema.json', import.meta.url), 'utf8'),
) as object;
const validate = new Ajv({ strict: true, allErrors: true, allowUnionTypes: true }).compile(SCHEMA);

/** Two legs that share a power feed at the start, a backup that takes one leg, and a ring whose last link is small. */
const HERON_SMALL = `
rig: Heron
formats: [{name: 1080p50, coding: st2110-20, width: 1920, height: 1080, frameRate: 50, sampling: 'YCbCr-4:2:2', depth: 10}]
networks: [{name: red, leg: 1}, {name: blue, leg: 2}]
vlans:
  - {name: red-video, id: 210, network: red, igmp: {snooping: true, querier: [{on: red-core, address: 10.20.10.1}]}}
  - {name: blue-video, id: 310, network: blue, igmp: {snooping: true, querier: [{on: blue-core, address: 10.21.10.1}], queryInterval: 60}}
switches:
  - {name: red-start, power: [start-mains], ports: [{name: 1-4, rate: 25G, access: red-video}, {name: 49-50, rate: 100G, trunk: [red-video]}]}
  - {name: red-tower, power: [tower-mains], ports: [{name: 1-4, rate: 25G, access: red-video}, {name: 49-50, rate: 100G, trunk: [red-video]}]}
  - {name: red-core, power: [ups-a, ups-b], ports: [{name: 1-4, rate: 100G, access: red-video}, {name: 49-50, rate: 100G, trunk: [red-video]}]}
  - {name: blue-start, power: [start-mains], ports: [{name: 1-4, rate: 25G, access: blue-video}, {name: 49, rate: 100G, trunk: [blue-video]}]}
  - {name: blue-core, power: [ups-a, ups-b], ports: [{name: 1-4, rate: 100G, access: blue-video}, {name: 49, rate: 100G, trunk: [blue-video]}]}
links:
  - {name: R1, ends: [red-core/49, red-start/49], rate: 100G, risks: [towpath duct]}
  - {name: R2, ends: [red-core/50, red-tower/49], rate: 1G}
  - {name: R3, ends: [red-start/50, red-tower/50], rate: 1G}
  - {name: B1, ends: [blue-core/49, blue-start/49], rate: 100G}
devices:
  - name: cam-11
    power: [start-mains, start-generator]
    interfaces: [{name: red, vlan: red-video, port: red-start/1}, {name: blue, vlan: blue-video, port: blue-start/1}]
    senders: [{name: video, format: 1080p50, legs: [{interface: red, group: 239.192.10.11}, {interface: blue, group: 239.193.10.11}]}]
  - name: cam-12
    interfaces: [{name: red, vlan: red-video, port: red-start/2}]
    senders: [{name: video, format: 1080p50, legs: [{interface: red, group: 239.192.10.12}]}, {name: spare, legs: [{interface: red, group: 239.192.10.99}]}]
  - name: cam-13
    senders: [{name: video, legs: [{group: 239.192.10.13}]}]
  - name: vision
    interfaces: [{name: red, vlan: red-video, port: red-core/1}, {name: blue, vlan: blue-video, port: blue-core/1}]
    receivers: [{name: in-11, takes: cam-11/video}, {name: in-12, takes: cam-12/video}, {name: in-13, takes: cam-13/video, legs: [{interface: red}]}]
  - name: backup
    interfaces: [{name: red, vlan: red-video, port: red-core/2}, {name: blue, vlan: blue-video}]
    receivers: [{name: in-11, takes: cam-11/video}, {name: any, legs: [{interface: red, group: 239.192.10.12}]}]
`;

function resultOf(model: Model, more: Partial<FailuresResult> = {}): FailuresResult {
  return { table: buildFailureTable(model), problems: [], all: false, ...more };
}

function asked(model: Model, ...names: readonly string[]): FailuresResult {
  return resultOf(model, { asked: elementsOf(model.plan).filter(({ name }) => names.includes(name)) });
}

describe('whole reports', () => {
  const small = modelOf(HERON_SMALL);

  it('a small rig', () => {
    expect(`\n${reportFailuresText(resultOf(small), PLAIN)}`).toMatchInlineSnapshot(`
      "
      IF ONE THING FAILS, WORST FIRST
      -------------------------------
      RANK  LOST  IN PART  ONE LEG  NO QUERIER  WHAT FAILS
         1     2        0        0           0  power feed start-mains
              lost: cam-11/video and cam-12/video
         2     1        1        1           1  switch red-core
              lost: cam-12/video
              in part: cam-11/video
              no querier: red-video (210)
         3     1        1        1           0  switch red-start
              lost: cam-12/video
              in part: cam-11/video
         4     1        0        1           0  interface vision red
              lost: cam-12/video
         5     1        0        0           0  device cam-11
              lost: cam-11/video
         6     1        0        0           0  device cam-12
              lost: cam-12/video
         7     1        0        0           0  interface cam-12 red
              lost: cam-12/video
         8     0        1        1           0  interface cam-11 red
              in part: cam-11/video
         9     0        1        0           0  interface backup red
              in part: cam-11/video
        10     0        0        1           1  switch blue-core
              no querier: blue-video (310)
        11     0        0        0           0  link R1
              overloads: R2 with 4.46 Gbit/s of 1 Gbit/s; R3 with 4.46 Gbit/s of 1 Gbit/s

      Judged       2 streams as 3 receivers take them
      Besides      6 more take nothing from what still stands: one leg of two, or their own
                   inputs (--all shows them)
      Not taken    1 stream that no receiver of the plan takes: cam-12/spare
      Read as      numbers count streams: LOST to every receiver still standing, IN PART to some
                   of them, ONE LEG kept with a leg less. NO QUERIER counts VLANs nobody queries
                   any more

      Not judged   1 stream (cam-13/video): the interface of the sender is not known. To have it
                   judged, name the \`interface\` of each leg.
                   a leg or receiver of 1 stream (cam-11/video): the switch port of the receiver
                   is not known. To have it judged, give the interface a \`port\` that carries its
                   VLAN: \`leaf-a/12\`.
                   1 receiver (backup/any): a receiver names a group and not the stream it
                   takes. To have it judged, give the receiver \`takes: device/sender\`.
      Caution      A clean result is a check on paper, not proof for air. Safety intercom and
                   public address follow local codes and competent testing.
      "
    `);
  });

  it('everything, narrow', () => {
    expect(`\n${reportFailuresText(resultOf(small, { all: true }), { ...PLAIN, width: 50 })}`).toMatchInlineSnapshot(`
      "
      IF ONE THING FAILS, WORST FIRST
      -------------------------------
         1  power feed start-mains
              lost: 2 streams, cam-11/video and
               cam-12/video
         2  switch red-core
              lost: 1 stream, cam-12/video
              in part: 1 stream, cam-11/video
              one leg: 1 stream
              no querier: red-video (210)
         3  switch red-start
              lost: 1 stream, cam-12/video
              in part: 1 stream, cam-11/video
              one leg: 1 stream
         4  interface vision red
              lost: 1 stream, cam-12/video
              one leg: 1 stream
         5  device cam-11
              lost: 1 stream, cam-11/video
         6  device cam-12
              lost: 1 stream, cam-12/video
         7  interface cam-12 red
              lost: 1 stream, cam-12/video
         8  interface cam-11 red
              in part: 1 stream, cam-11/video
              one leg: 1 stream
         9  interface backup red
              in part: 1 stream, cam-11/video
        10  switch blue-core
              one leg: 1 stream
              no querier: blue-video (310)
        11  link R1
              overloads: R2 with 4.46 Gbit/s of
               1 Gbit/s; R3 with 4.46 Gbit/s of 1 Gbit/s
        12  interface cam-11 blue
              one leg: 1 stream
        13  interface vision blue
              one leg: 1 stream
        14  link B1
              one leg: 1 stream
        15  switch blue-start
              one leg: 1 stream
        16  device backup
              own inputs: 1 stream
        17  device vision
              own inputs: 2 streams

      Judged       2 streams as 3 receivers take them
      Not taken    1 stream that no receiver of the plan
                   takes: cam-12/spare
      Read as      numbers count streams: LOST to every
                   receiver still standing, IN PART to
                   some of them, ONE LEG kept with a leg
                   less. NO QUERIER counts VLANs nobody
                   queries any more

      Not judged   1 stream (cam-13/video): the
                   interface of the sender is not known.
                   To have it judged, name the
                   \`interface\` of each leg.
                   a leg or receiver of 1 stream
                   (cam-11/video): the switch port of
                   the receiver is not known. To have it
                   judged, give the interface a \`port\`
                   that carries its VLAN: \`leaf-a/12\`.
                   1 receiver (backup/any): a receiver
                   names a group and not the stream it
                   takes. To have it judged, give the
                   receiver \`takes: device/sender\`.
      Caution      A clean result is a check on paper,
                   not proof for air. Safety intercom
                   and public address follow local codes
                   and competent testing.
      "
    `);
  });

  it('one element in full', () => {
    expect(`\n${reportFailuresText(asked(small, 'red-core', 'R1', 'ups-a'), PLAIN)}`).toMatchInlineSnapshot(`
      "
      IF switch red-core FAILS
      ------------------------
      Rank         2 of 17
      Lost         1 stream
                   cam-12/video at vision/in-12
      In part      1 stream
                   cam-11/video at backup/in-11
      One leg      1 stream
                   cam-11/video at vision/in-11
      No querier   red-video (210): memberships end within 260 s

      IF link R1 FAILS
      ----------------
      Rank         11 of 17
      Lost         none
      In part      none
      One leg      none
      No querier   none
      Overloads    R2 with 4.46 Gbit/s of 1 Gbit/s; R3 with 4.46 Gbit/s of 1 Gbit/s

      IF power feed ups-a FAILS
      -------------------------
      Lost         nothing, and nothing is weakened, as far as the plan can be judged

      Not judged   1 stream (cam-13/video): the interface of the sender is not known. To have it
                   judged, name the \`interface\` of each leg.
                   a leg or receiver of 1 stream (cam-11/video): the switch port of the receiver
                   is not known. To have it judged, give the interface a \`port\` that carries its
                   VLAN: \`leaf-a/12\`.
                   1 receiver (backup/any): a receiver names a group and not the stream it
                   takes. To have it judged, give the receiver \`takes: device/sender\`.
      Caution      A clean result is a check on paper, not proof for air. Safety intercom and
                   public address follow local codes and competent testing.
      "
    `);
  });

  it('a spreadsheet', () => {
    expect(reportFailuresCsv(resultOf(small)).replaceAll('\r\n', '\n')).toMatchInlineSnapshot(`
      ""rank","kind","element","streams lost","streams lost in part","streams on one leg","VLANs without querier","links overloaded","names lost","names lost in part","names without querier","names overloaded"
      1,"power feed","start-mains",2,0,0,0,0,"cam-11/video and cam-12/video","","",""
      2,"switch","red-core",1,1,1,1,0,"cam-12/video","cam-11/video","red-video",""
      3,"switch","red-start",1,1,1,0,0,"cam-12/video","cam-11/video","",""
      4,"interface","vision red",1,0,1,0,0,"cam-12/video","","",""
      5,"device","cam-11",1,0,0,0,0,"cam-11/video","","",""
      6,"device","cam-12",1,0,0,0,0,"cam-12/video","","",""
      7,"interface","cam-12 red",1,0,0,0,0,"cam-12/video","","",""
      8,"interface","cam-11 red",0,1,1,0,0,"","cam-11/video","",""
      9,"interface","backup red",0,1,0,0,0,"","cam-11/video","",""
      10,"switch","blue-core",0,0,1,1,0,"","","blue-video",""
      11,"link","R1",0,0,0,0,2,"","","","R2 and R3"
      "
    `);
  });

  it('an unreadable plan', () => {
    const { problems } = loadPlan([{ name: 'plan.yaml', text: 'devices: 3\n' }]);
    expect(`\n${reportFailuresText({ table: undefined, problems, all: false }, PLAIN)}`).toMatchInlineSnapshot(`
      "
      INPUT THAT COULD NOT BE READ
      ----------------------------

      UNREAD    \`devices\` is \`3\`, not a list
        Write   write a list, each entry on a line that starts with \`- \`. Devices.
        Where   plan.yaml 1:10

      Caution      A clean result is a check on paper, not proof for air. Safety intercom and
                   public address follow local codes and competent testing.
      "
    `);
  });
});

describe('the table', () => {
  it('Kestrel Bay: no switch, link, risk or feed takes a stream off air, boxes only their own', () => {
    const table = buildFailureTable(createModel(loadPlan(readInputs([HERON]).inputs).plan));
    const kinds = new Set(table.rows.filter(takesOffAir).map(({ element }) => element.kind));
    expect([...kinds]).toEqual(['device']);
    for (const row of table.rows.filter(takesOffAir)) {
      for (const { sender } of [...row.lostEverywhere, ...row.lostInPart])
        expect(sender.device?.name).toBe(row.element.name);
    }
    expect(table.unjudged).toEqual([]);
  });

  it('is the failure model told by streams: every reception stands in exactly one list', () => {
    for (const plan of [HERON_SMALL, OSPREY_SMALL]) {
      const model = modelOf(plan);
      const table = buildFailureTable(model);
      for (const { element, lost, weakened } of model.failures.ranked) {
        const row = table.rows.find((one) => one.element === element);
        const names = (
          lists: readonly {
            readonly sender: { readonly label: string };
            readonly receivers: readonly { readonly label: string }[];
          }[],
        ): readonly string[] =>
          lists
            .flatMap(({ sender, receivers }) => receivers.map((receiver) => `${sender.label} ${receiver.label}`))
            .sort();
        const told = (list: typeof lost): readonly string[] =>
          list.map(({ sender, receiver }) => `${sender.label} ${receiver.label}`).sort();
        expect(names([...(row?.lostEverywhere ?? []), ...(row?.lostInPart ?? []), ...(row?.withIt ?? [])])).toEqual(
          told(lost),
        );
        expect(names(row?.fewerLegs ?? [])).toEqual(told(weakened));
      }
    }
  });

  it('ranks by streams lost everywhere, then in part, whatever the order of the plan', () => {
    const rows = buildFailureTable(modelOf(OSPREY_SMALL)).rows.map(
      (row) => [row.lostEverywhere.length, row.lostInPart.length] as const,
    );
    expect(rows).toEqual([...rows].sort(([a, b], [c, d]) => c - a || d - b));
  });
});

describe('the table on queriers and links', () => {
  const { rows } = buildFailureTable(modelOf(HERON_SMALL));

  it('RFC 3376 §8.4: memberships end after robustness times query interval plus response interval', () => {
    const ends = rows.flatMap((row) =>
      row.queriersLost.map(({ vlan, membershipS }) => [row.element.name, vlan.name, membershipS]),
    );
    // The defaults of §8.1 to §8.3, and a query interval of 60 s.
    expect(ends).toEqual([
      ['red-core', 'red-video', 2 * 125 + 10],
      ['blue-core', 'blue-video', 2 * 60 + 10],
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
    for (const model of [modelOf(HERON_SMALL), modelOf(OSPREY_SMALL)]) {
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
    expect(
      rows.map((row) => [row['element'], row['streams lost'], row['streams lost in part'], row['streams on one leg']]),
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
    for (const plan of [HERON_SMALL, OSPREY_SMALL]) {
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
