/** The delay reports: what they say, that nothing from a plan escapes into them, that they keep their width and schema. */
import { Ajv } from 'ajv';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { loadPlan } from '../../src/plan/load.js';
import { createModel, type Model } from '../../src/model/model.js';
import { readInputs } from '../../src/edge/files.js';
import { reportDelayJson, reportDelayText } from '../../src/reporters/delay.js';
import type { DelayResult } from '../../src/report/delay/result.js';
import { escapeText } from '../../src/page/escape.js';
import { measure } from '../../src/draw/width.js';
import { hostileModel } from '../tools/network-plans.js';
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

describe('Heron in text', () => {
  const text = reportDelayText(resultOf(heron), PLAIN);

  it('has the pair, the round trip and the slowest receptions', () => {
    // Picture: 20 + 20 + 10 ms in devices, twice the default offset of 0.764 ms, 13 µs and 23 ms of way, 15 + 10 ms.
    expect(text).toContain('Result       sound 13.54 ms early: inside +40/-60 ms (EBU R 37)');
    // Each way: 4 + 2 + 4 ms in devices, twice the link offset of 3 ms.
    expect(text).toContain('Result       32 ms there and back; each way below 150 ms (ITU-T G.114)');
    expect(text).toContain('   59 ms  wan-gateway/programme-sound at home-gateway/programme-sound');
    expect(text).toMatch(/Further +\d+ receptions more \(--all lists them\)/);
  });

  it('answers for one stream, part by part', () => {
    const asked = heron.plan.senders.filter(({ label }) => label === 'wan-gateway/programme-sound');
    const one = reportDelayText(resultOf(heron, { asked }), PLAIN);
    expect(one).toContain('Sum          59 ms');
    expect(one).toContain('23 ms      on the way: W02');
    expect(one).not.toContain('ROUND TRIP');
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
