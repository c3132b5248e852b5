/** The delay reports: what they say, that nothing from a plan escapes into them, that they keep their width and schema. */
import { Ajv } from 'ajv';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { loadPlan } from '../../src/plan/load.js';
import { createModel, type Model } from '../../src/model/model.js';
import { readInputs } from '../../src/edge/files.js';
import { reportDelayJson, reportDelayText } from '../../src/reporters/delay.js';
import type { DelayResult } from '../../src/answers/delay.js';
import { escapeText } from '../../src/page/escape.js';
import { delayPage } from '../../src/report/delay/page.js';
import { measure } from '../../src/draw/width.js';
import { hostileModel } from '../tools/network-plans.js';
import { cellsOf, headingsOf, textsOf } from '../tools/page-parts.js';
import { HOSTILE_TEXTS } from '../tools/report-samples.js';

const HERON = fileURLToPath(new URL('../../examples/kestrel-bay/heron', import.meta.url));
const PLAIN = { version: '0.1.0', width: 100, colour: false };
const SCHEMA = JSON.parse(readFileSync(new URL('../../schemas/delay.schema.json', import.meta.url), 'utf8')) as object;
const validate = new Ajv({ strict: true, allErrors: true, allowUnionTypes: true }).compile(SCHEMA);
const heron = ((): Model => {
  const { inputs, problems } = readInputs([HERON]);
  return createModel(loadPlan(inputs, problems).plan);
})();

const SMALL = `
vlans: [{name: red, id: 220}]
switches: [{name: red-a, ports: [{name: 1-9, access: red}]}, {name: red-b, ports: [{name: 1-9, access: red}]}]
links: [{name: red-link, ends: [red-a/9, red-b/9]}]
timing:
  lipSync: [{name: red-pair, at: red-desk, picture: [red-cam/red-out], sound: [red-box/red-out]}]
  roundTrips: [{name: red-trip, there: [red-box/red-out], back: [red-desk/red-out]}]
devices:
  - name: red-cam
    interfaces: [{name: red, vlan: red, port: red-a/1}]
    senders: [{name: red-out, essence: video, legs: [{interface: red, group: 239.192.10.1}]}]
  - name: red-box
    delay: 1 ms
    interfaces: [{name: red, vlan: red, port: red-a/2}]
    senders: [{name: red-out, essence: audio, legs: [{interface: red, group: 239.192.20.1, packetTime: 1 ms}]}]
    receivers: [{name: red-in, takes: red-desk/red-out}]
  - name: red-desk
    interfaces: [{name: red, vlan: red, port: red-b/1}]
    senders: [{name: red-out, essence: audio, legs: [{interface: red, group: 239.192.20.2, packetTime: 1 ms}]}]
    receivers: [{name: red-picture, takes: red-cam/red-out}, {name: red-sound, takes: red-box/red-out, delay: 4 ms}]
`;

function resultOf(model: Model, more: Partial<DelayResult> = {}): DelayResult {
  return { delays: model.delays, problems: [], all: false, ...more };
}

describe('Heron for people', () => {
  it('has the pair, the round trip and the slowest receptions', () => {
    const page = delayPage(resultOf(heron));
    expect(textsOf(page, 'Result')).toEqual([
      // Picture: 20 + 20 + 10 ms in devices, twice the default offset of 0.764 ms, 13 µs and 23 ms of way, 15 + 10 ms.
      'sound 13.54 ms early: inside +40/-60 ms (EBU R 37)',
      // Each way: 4 + 2 + 4 ms in devices, twice the link offset of 3 ms.
      '32 ms there and back; each way below 150 ms (ITU-T G.114)',
    ]);
    expect(cellsOf(page)).toContainEqual(['59 ms', 'wan-gateway/programme-sound at home-gateway/programme-sound']);
    expect(cellsOf(page)).toHaveLength(20);
    expect(textsOf(page, 'Further')).toEqual([
      `${heron.delays.budgets.length - 20} receptions more (--all lists them)`,
    ]);
  });

  it('answers for one stream, part by part', () => {
    const asked = heron.plan.senders.filter(({ label }) => label === 'wan-gateway/programme-sound');
    const page = delayPage(resultOf(heron, { asked }));
    expect(headingsOf(page)).toEqual(['wan-gateway/programme-sound at home-gateway/programme-sound']);
    expect(textsOf(page, 'Sum')).toEqual(['59 ms']);
    expect(textsOf(page, '23 ms')).toEqual(['on the way: W02 (lengths at 5 µs/km, and delays of circuits, computed)']);
  });

  it('reads like this', () => {
    expect(reportDelayText(resultOf(hostileModel(SMALL, /^none$/, (name) => name)), PLAIN)).toMatchInlineSnapshot(`
      "LIP SYNC red-pair, at red-desk
      ------------------------------
      Result       sound 6 ms late of what is known: NOT JUDGED against +40/-60 ms (EBU R 37): parts are
                   not known
      Picture      at least 0 ns by red-cam/red-out
      Sound        at least 6 ms by red-box/red-out
        1 ms       until it leaves: red-box (delay of the device, stated)
        1 ms       packets: red-box/red-out (packet time, stated)
        4 ms       buffer: red-desk/red-sound (delay of the receiver, stated)
      Not known    how long it takes until it leaves (red-cam/red-out): give its stream or its device a
                   \`delay\`
                   how much the input buffers (red-desk/red-picture): give it a \`delay\`; for sound, or
                   \`timing\` a \`linkOffset\`

      ROUND TRIP red-trip
      -------------------
      Result       at least 8 ms there and back; NOT JUDGED against 150 ms a way (ITU-T G.114): parts are
                   not known
      There        at least 6 ms by red-box/red-out
        1 ms       until it leaves: red-box (delay of the device, stated)
        1 ms       packets: red-box/red-out (packet time, stated)
        4 ms       buffer: red-desk/red-sound (delay of the receiver, stated)
      Back         at least 2 ms by red-desk/red-out
        1 ms       packets: red-desk/red-out (packet time, stated)
        1 ms       until it comes out: red-box (delay of the device, stated)
      Not known    how long links are (red-link): give them a \`length\`, circuits a \`delay\`
                   how long it takes from input to output (red-desk): give the device a \`delay\`
                   how long it takes until it leaves (red-desk/red-out): give its stream or its device a
                   \`delay\`

      EACH RECEPTION, SLOWEST FIRST
      -----------------------------
          6 ms +  red-box/red-out at red-desk/red-sound
          2 ms +  red-desk/red-out at red-box/red-in
          0 ns +  red-cam/red-out at red-desk/red-picture
      Read as      from what the sender captures to what comes out of the receiver; + where parts are not
                   known
      Not known    how long links are (red-link): give them a \`length\`, circuits a \`delay\`
                   how long it takes from input to output (red-desk): give the device a \`delay\`
                   how long it takes until it leaves (red-desk/red-out and red-cam/red-out): give its
                   stream or its device a \`delay\`
                   how much the input buffers (red-desk/red-picture): give it a \`delay\`; for sound, or
                   \`timing\` a \`linkOffset\`

      Caution      A clean result is a check on paper, not proof for air. Safety intercom and public
                   address follow local codes and competent testing.
      "
    `);
  });

  it('keeps to the width', () => {
    for (const width of [60, 80, 140]) {
      for (const line of reportDelayText(resultOf(heron, { all: true }), { ...PLAIN, width }).split('\n'))
        expect(measure(line)).toBeLessThanOrEqual(width);
    }
  });
});

describe('JSON', () => {
  it('keeps to its schema, with gaps and without a plan too', () => {
    for (const result of [
      resultOf(heron),
      resultOf(hostileModel(SMALL, /^none$/, (name) => name)),
      resultOf(heron, { delays: undefined }),
    ]) {
      expect(validate(JSON.parse(reportDelayJson(result, PLAIN))), JSON.stringify(validate.errors)).toBe(true);
    }
  });
});

describe('hostile names', () => {
  it.each(HOSTILE_TEXTS.map((text) => [escapeText(text), text]))('%s stays a name', (_, text) => {
    const model = hostileModel(SMALL, /^red-/, (name) => `${name}${text.replaceAll('/', '')}`);
    expect(model.delays.lipSyncs).toHaveLength(1);
    for (const output of [reportDelayText(resultOf(model), PLAIN), reportDelayJson(resultOf(model), PLAIN)]) {
      expect(output.replaceAll('\n', '')).toBe(escapeText(output.replaceAll('\n', '')));
    }
  });
});
