/** The report on clocks: what it says, that it fits its schema and the width, and that names can do no harm. */
import { Ajv } from 'ajv';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import type { Model } from '../../src/model/model.js';
import { namedLosses } from '../../src/model/timing/failover.js';
import { reportClocksJson, reportClocksText } from '../../src/reporters/clocks.js';
import { escapeText } from '../../src/page/escape.js';
import { measure } from '../../src/draw/width.js';
import { hostileModel, modelOf } from '../tools/network-plans.js';
import { HOSTILE_TEXTS } from '../tools/report-samples.js';
import { run as runProgram } from '../tools/run-program.js';

const SCHEMA = JSON.parse(readFileSync(new URL('../../schemas/clocks.schema.json', import.meta.url), 'utf8')) as object;
const validate = new Ajv({ strict: true, allErrors: true, allowUnionTypes: true }).compile(SCHEMA);
const PLAIN = { version: '0.1.0', width: 90, colour: false };
const HERON = fileURLToPath(new URL('../../examples/kestrel-bay/heron', import.meta.url));

/** Two satellite clocks, a boundary clock, a jib that outranks it from behind, a camera that may not follow anyone. */
const BOATHOUSE = `
rig: Heron
networks: [{name: red}]
vlans: [{name: red-video, id: 10, network: red}]
timing:
  domains: [{name: media, number: 10, profile: AES67, logAnnounceInterval: 0, grandmasters: [sky-a, sky-b]}]
switches:
  - {name: tower, ports: [{name: 1-8, access: red-video}, {name: 9, trunk: [red-video]}], power: [feed-1], ptp: {mode: boundary, domain: 10, priority1: 60, clockIdentity: 00-00-00-FF-FE-00-00-50, capacity: 1}}
  - {name: pontoon, ports: [{name: 1-8, access: red-video}, {name: 9, trunk: [red-video]}], ptp: {mode: none}}
links: [{name: lake cable, ends: [tower/9, pontoon/9], risks: [duct]}]
devices:
  - {name: sky-a, ptp: {domain: 10, priority1: 50, clockClass: 6, clockIdentity: 00-00-00-FF-FE-00-00-01}, interfaces: [{name: e1, port: tower/1}]}
  - {name: sky-b, ptp: {domain: 10, priority1: 50, clockClass: 7, clockIdentity: 00-00-00-FF-FE-00-00-02}, interfaces: [{name: e1, port: tower/2}]}
  - {name: jib, ptp: {domain: 10, clockIdentity: 00-00-00-FF-FE-00-00-03}, interfaces: [{name: e1, port: pontoon/1}]}
  - {name: cam-1, ptp: {domain: 10, slaveOnly: true}, interfaces: [{name: e1, port: pontoon/2}]}
  - {name: cam-2, ptp: {domain: 10, slaveOnly: true, priority1: 1}, interfaces: [{name: e1, port: pontoon/3}]}
  - {name: cam-3, ptp: {domain: 3}, interfaces: [{name: e1, port: pontoon/4}]}
`;
const NAMES = /^(sky-a|sky-b|jib|cam-\d|tower|pontoon|lake cable|duct|feed-1|red-video|red|media|e1)$/;

function text(
  model: Model,
  options: { readonly width?: number; readonly all?: boolean; readonly lose?: string } = {},
): string {
  const { timing, plan } = model;
  const asked =
    options.lose === undefined
      ? undefined
      : namedLosses(plan, timing)
          .filter((one) => one.name === options.lose)
          .map((one) => timing.without(one));
  return reportClocksText(
    { timing, problems: [], asked, all: options.all ?? false },
    { ...PLAIN, width: options.width ?? 90 },
  );
}

describe('the text', () => {
  it('says who leads and why, who follows, who does not, what each loss does and what each serves', () => {
    expect(`\n${text(modelOf(BOATHOUSE))}`).toMatchInlineSnapshot(`
      "
      DOMAIN 3 over UDP/IPv4
      ----------------------
      Clocks       1 clock: 0 lead, 0 follow
      Leads        nobody

      ALONE        cam-3: own time, and nobody follows

      DOMAIN 10 over UDP/IPv4: media
      ------------------------------
      Clocks       6 clocks: 1 leads, 3 follow
      Profile      AES67 media profile
      Meant        sky-a and sky-b to lead

      Leads        sky-a, before sky-b by clockClass (6 against 7)
        sky-a (class 6, locked to a primary reference; priorities 50 and 128)
          tower (red, port 1, 1 step from sky-a)
            and 2 clocks: jib and cam-1

      Passive      sky-b: own time: a better clock is heard, but at this class never followed
      OUTRANKS     cam-2: may only follow, yet its own values beat every clock it hears, so it
                   follows none: no time

      IF ONE THING IS LOST
      --------------------
        device sky-a: sky-b takes over from sky-a within 3.1 to 4.9 s, jib, cam-1 and tower
           after 4.2 to 7.7 s; in between some follow tower, for up to 3 s
        reference of sky-a (class 52): sky-b takes over from sky-a within 0 to 2 s, jib,
           cam-1 and tower after 1 to 4.9 s
        switch tower: jib, WHICH IS NOT MEANT TO LEAD, takes over from sky-a within 3 to 4 s,
           cam-1 after 4 to 6 s
        switch pontoon: ALONE: jib and cam-1
        link lake cable: jib, WHICH IS NOT MEANT TO LEAD, takes over from sky-a within
           2.1 to 3.9 s, cam-1 after 3.1 to 5.6 s, while sky-a leads the rest
        risk duct: jib, WHICH IS NOT MEANT TO LEAD, takes over from sky-a within
           2.1 to 3.9 s, cam-1 after 3.1 to 5.6 s, while sky-a leads the rest
        power feed feed-1: jib, WHICH IS NOT MEANT TO LEAD, takes over from sky-a within
           3 to 4 s, cam-1 after 4 to 6 s
      Times        counted from the last Announce of a box that falls silent with its links
                   still up (where the carrier goes too, all is sooner), or from the loss of a
                   link or a reference. A clock that has chosen still has to lock, and how long
                   that takes the plan does not say

      WHAT EACH SERVES
      ----------------
        sky-a: 1 follower, 1 delay request a second, 18 messages a second sent
        tower: 2 followers of 1, 2 delay requests a second, 19 messages a second sent, MORE
           THAN IT CAN SERVE

      Caution      A clean result is a check on paper, not proof for air. Safety intercom and
                   public address follow local codes and competent testing.
      "
    `);
  });

  it('says the same after a loss', () => {
    expect(`\n${text(modelOf(BOATHOUSE), { lose: 'tower' })}`).toMatchInlineSnapshot(`
      "
      WITHOUT switch tower
      --------------------
      Changes      jib, WHICH IS NOT MEANT TO LEAD, takes over from sky-a within 3 to 4 s, cam-1
                   after 4 to 6 s
      Times        counted from the last Announce of a box that falls silent with its links
                   still up (where the carrier goes too, all is sooner), or from the loss of a
                   link or a reference. A clock that has chosen still has to lock, and how long
                   that takes the plan does not say

      DOMAIN 3 over UDP/IPv4
      ----------------------
      Clocks       1 clock: 0 lead, 0 follow
      Leads        nobody

      ALONE        cam-3: own time, and nobody follows

      DOMAIN 10 over UDP/IPv4: media
      ------------------------------
      Clocks       5 clocks: 1 leads, 1 follow
      Profile      AES67 media profile
      Meant        sky-a and sky-b to lead

      Leads        jib, WHICH IS NOT MEANT TO LEAD, nobody else in reach may lead
        jib (class 248, default: free-running; priorities 128 and 128)
          and 1 clock: cam-1

      OUTRANKS     cam-2: may only follow, yet its own values beat every clock it hears, so it
                   follows none: no time
      OFF          sky-a and sky-b: cut off

      Caution      A clean result is a check on paper, not proof for air. Safety intercom and
                   public address follow local codes and competent testing.
      "
    `);
  });

  it('says so where a plan has no clocks', () => {
    expect(text(modelOf('devices: [{name: cam-1}]'))).toContain('no device or switch of the plan states `ptp`');
  });

  it.each([40, 60, 90, 200])('keeps to %i columns', (width) => {
    for (const all of [false, true])
      for (const line of text(modelOf(BOATHOUSE), { width, all }).split('\n'))
        expect(measure(line), line).toBeLessThanOrEqual(width);
  });

  it.each(HOSTILE_TEXTS)('shows %j as it is written, on lines of its own making', (hostile) => {
    const model = hostileModel(BOATHOUSE, NAMES, (name) => `${name}${hostile}`);
    const shown = text(model, { all: true });
    expect(shown.split('\n').map(escapeText)).toEqual(shown.split('\n'));
    expect(shown.split('\n').filter((line) => line.startsWith('ERROR forged'))).toEqual([]);
    expect(
      text(model, { lose: `tower${hostile}` })
        .split('\n')
        .map(escapeText)
        .join('\n'),
    ).toBe(text(model, { lose: `tower${hostile}` }));
  });
});

describe('the document', () => {
  const { timing, plan } = modelOf(BOATHOUSE);

  it('fits its schema, whole, after each loss, and when nothing could be read', () => {
    const documents = [
      reportClocksJson({ timing, problems: [], all: false }, PLAIN),
      reportClocksJson(
        { timing, problems: [], all: false, asked: namedLosses(plan, timing).map((one) => timing.without(one)) },
        PLAIN,
      ),
      reportClocksJson(
        {
          timing: undefined,
          problems: [
            {
              what: 'no plan',
              instead: 'write one',
              at: { file: 'a.yaml', line: 1, column: 1, endLine: 1, endColumn: 2 },
            },
          ],
          all: false,
        },
        PLAIN,
      ),
    ];
    for (const document of documents) {
      validate(JSON.parse(document));
      expect(validate.errors ?? []).toEqual([]);
    }
  });

  it('says what the text says', () => {
    const document = JSON.parse(reportClocksJson({ timing, problems: [], all: false }, PLAIN)) as {
      readonly clocks: readonly {
        readonly name: string;
        readonly standing: string;
        readonly grandmaster: string;
        readonly stepsRemoved: number;
      }[];
    };
    expect(document.clocks.map((one) => [one.name, one.standing, one.grandmaster, one.stepsRemoved])).toEqual([
      ['sky-a', 'leads', 'sky-a', 0],
      ['sky-b', 'passive', 'sky-b', 0],
      ['jib', 'follows', 'sky-a', 2],
      ['cam-1', 'follows', 'sky-a', 2],
      ['cam-2', 'outranks', 'cam-2', 0],
      ['cam-3', 'alone', 'cam-3', 0],
      ['tower', 'follows', 'sky-a', 1],
    ]);
  });
});

describe('the command', () => {
  async function run(
    ...words: readonly string[]
  ): Promise<{ readonly code: number; readonly out: string; readonly err: string }> {
    const { status: code, stdout: out, stderr: err } = await runProgram(['clocks', ...words]);
    return { code, out, err };
  }

  it('ends with 0 on a plan that can be read', async () => {
    const { code, out } = await run(HERON, '--colour', 'never', '--width', '100');
    expect(code).toBe(0);
    expect(out).toContain('Leads        clock-201, before clock-202 by priority2 (1 against 2)');
  });

  it('elects again without a named thing, and without a reference alone', async () => {
    expect((await run(HERON, '--lose', 'clock-201')).out).toContain('clock-202, before');
    const { out } = await run(HERON, '--lose', 'clock-201:reference', '--format', 'json');
    const { asked } = JSON.parse(out) as {
      readonly asked: readonly {
        readonly kind: string;
        readonly clockClass: number;
        readonly handovers: readonly { readonly to: string }[];
      }[];
    };
    expect(asked.map((one) => [one.kind, one.clockClass, one.handovers.map(({ to }) => to)])).toEqual([
      ['reference', 7, ['clock-202']],
      ['reference', 52, ['clock-202']],
    ]);
  });

  it('ends with 2 on a name the plan does not have, and on a plan that can not be read', async () => {
    const lost = await run(HERON, '--lose', 'clock-210');
    expect(lost.code).toBe(2);
    expect(lost.err).toContain('no clock, switch, link, risk or power feed of the plan is called `clock-210`');
    const unread = await run('no-such-plan.yaml');
    expect(unread.code).toBe(2);
  });
});
