/** How a timeline is said: text, document, command. */
import { Ajv } from 'ajv';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { measure } from '../../src/draw/width.js';
import { escapeText } from '../../src/page/escape.js';
import { reportTimelineJson, reportTimelineText } from '../../src/reporters/timeline.js';
import { hostileModel, modelOf } from '../tools/network-plans.js';
import { HOSTILE_TEXTS } from '../tools/report-samples.js';
import { run } from '../tools/run-program.js';
import { GATE, timelinesOf } from '../tools/timeline-plans.js';

const SCHEMA = JSON.parse(
  readFileSync(new URL('../../schemas/timeline.schema.json', import.meta.url), 'utf8'),
) as object;
const validate = new Ajv({ strict: true, allErrors: true, allowUnionTypes: true }).compile(SCHEMA);
const PLAIN = { version: '0.1.0', width: 90, colour: false };
const HERON = fileURLToPath(new URL('../../examples/kestrel-bay/heron', import.meta.url));

describe('the text', () => {
  it('says moment by moment what happens and to whom', () => {
    expect(`\n${reportTimelineText(timelinesOf(modelOf(GATE), 'red-core'), PLAIN)}`).toMatchInlineSnapshot(`
      "
      WITHOUT switch red-core, IN TIME
      --------------------------------
      0 s             switch red-core is lost
      0 s             DARK: 1 receiver: vision/in-12
      0 s             the red leg is gone at 1 receiver: vision/in-11; it goes on by blue
      0 s             the red leg is off for a while at 1 receiver: wall/in-11; it goes on by
                      blue
      0 s             red-video (210): red-core queries no more for 2 switches (red-start and
                      red-tower)
      0 s             ALONE: vision
      0 to 4 s        2 clocks (vision and red-start) hear red-core no more
      3 to 4.9 s      red-start leads meanwhile, for up to 3 s: cam-11 follows it
      3 to 4.9 s      clock-202 leads
      4 to 7.9 s      2 clocks (cam-11 and red-start) follow clock-202
      12 to 14.9 s    locked: red-start
      30 to 50 s      new spanning tree: R3 opens (STP: max age, listening, learning)
      30 to 265 s     the red leg comes again with the next report along the new way, at
                      1 receiver: wall/in-11
      130 to 255 s    red-video (210): red-start queries 2 switches (red-start and red-tower);
                      receivers that answer it late may be forgotten before, for up to 5 s
      not known       locked: cam-11; how long they need to lock is not stated (\`settle\` under
                      \`ptp\`)
      Followed        3 receptions

      Read as         seconds after the loss, from the earliest to the latest. Links: the
                      carrier falls at 0 s. Clocks: counted from the last Announce of a box that
                      falls silent with its links still up (where the carrier goes too, all is
                      sooner). Queriers and memberships: timers of the VLAN, where none are
                      stated those of RFC 3376
      Caution         A clean result is a check on paper, not proof for air. Safety intercom and
                      public address follow local codes and competent testing.
      "
    `);
  });

  it('says so where nothing changes', () => {
    expect(reportTimelineText(timelinesOf(modelOf(GATE), 'wall'), PLAIN)).toContain('gone with it: wall/in-11');
    expect(reportTimelineText(timelinesOf(modelOf(GATE), 'R3'), PLAIN)).toContain('nothing changes');
  });

  it.each([40, 60, 90, 200])('keeps to %i columns', (width) => {
    for (const all of [false, true])
      for (const line of reportTimelineText({ ...timelinesOf(modelOf(GATE)), all }, { ...PLAIN, width }).split('\n'))
        expect(measure(line), line).toBeLessThanOrEqual(width);
  });

  it.each(HOSTILE_TEXTS)('shows %j as it is written, on lines of its own making', (hostile) => {
    const names = /^(red-core|red-start|clock-201|cam-11|vision|wall|R1|R3|red-video|red|in-11)$/;
    const shown = reportTimelineText(timelinesOf(hostileModel(GATE, names, (name) => `${name}${hostile}`)), PLAIN);
    expect(shown.split('\n').map(escapeText)).toEqual(shown.split('\n'));
    expect(shown.split('\n').filter((line) => line.startsWith('ERROR forged'))).toEqual([]);
  });
});

describe('the document', () => {
  it('fits its schema for every loss', () => {
    const document = JSON.parse(reportTimelineJson(timelinesOf(modelOf(GATE)), PLAIN)) as {
      readonly timelines: readonly { readonly moments: readonly { readonly kind: string }[] }[];
    };
    validate(document);
    expect(validate.errors ?? []).toEqual([]);
    const kinds = new Set(document.timelines.flatMap(({ moments }) => moments.map(({ kind }) => kind)));
    for (const kind of ['dark', 'legs off', 'legs on', 'new tree', 'querier takes over', 'class changes', 'has master'])
      expect(kinds).toContain(kind);
  });
});

describe('the command', () => {
  it('takes a device, a link and a reference, and says what is nobody’s name', async () => {
    const out = async (...words: readonly string[]): Promise<string> =>
      (await run(['failures', HERON, '--timeline', ...words])).stdout;
    expect(await out('--lose', 'clock-201')).toContain('WITHOUT device clock-201, IN TIME');
    expect(await out('--lose', 'R02')).toContain('WITHOUT link R02, IN TIME');
    expect(await out('--lose', 'clock-201:reference')).toContain('WITHOUT reference of clock-201 (class 7), IN TIME');
    const { status, stderr } = await run(['failures', HERON, '--timeline', '--lose', 'clock-201:referenc']);
    expect(status).toBe(2);
    expect(stderr).toContain('did you mean `clock-201:reference`?');
  });

  it('says what clocks do once it is given back', async () => {
    const { status, stdout } = await run(['clocks', HERON, '--lose', 'clock-201', '--return']);
    expect([status, stdout.includes('WITH device clock-201 BACK, IN TIME')]).toEqual([0, true]);
    const { stdout: json } = await run(['clocks', HERON, '--lose', 'clock-201', '--return', '--format', 'json']);
    validate(JSON.parse(json));
    expect(validate.errors ?? []).toEqual([]);
    expect((await run(['clocks', HERON, '--return'])).stderr).toContain('--return needs --lose NAME');
  });

  it.each([
    [['--timeline'], '--timeline needs --lose NAME'],
    [['--timeline', '--lose', 'R02', '--format', 'csv'], '--timeline comes as text or json'],
    [['--lose', 'clock-201:reference'], '--timeline says what its clocks do'],
    [['--lose', 'reference clock-201'], 'nothing of the plan that can fail is called `reference clock-201`'],
  ])('refuses %j', async (words, said) => {
    const { status, stderr } = await run(['failures', HERON, ...words]);
    expect([status, stderr.includes(said), stderr]).toEqual([2, true, stderr]);
  });
});
