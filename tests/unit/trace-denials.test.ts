/** On the broken rigs: a trace opens with every error on its stream or its ends, and draws no delivery that lint denies. */
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { traceStream } from '../../src/answers/trace.js';
import { readInputs } from '../../src/edge/files.js';
import type { Finding } from '../../src/lint/finding.js';
import { lintLoaded } from '../../src/lint/lint.js';
import { createModel } from '../../src/model/model.js';
import type { Trace } from '../../src/model/explain/index.js';
import { loadPlan, type LoadedPlan } from '../../src/plan/load.js';
import type { Interface, ReceiverLeg, Sender } from '../../src/plan/types.js';
import { reportTraceText } from '../../src/reporters/trace.js';

const BAY = fileURLToPath(new URL('../../examples/kestrel-bay/', import.meta.url));

function takersOf({ plan }: LoadedPlan, sender: Sender): readonly ReceiverLeg[] {
  return plan.receiverLegs.filter(({ takes }) => takes?.sender === sender);
}

/** What findings call a stream, its legs and whatever stands at its ends: receivers, hosts and their ports. */
function namesOf(sender: Sender, takers: readonly ReceiverLeg[]): readonly string[] {
  const hosts = [...sender.legs, ...takers].flatMap((one): readonly Interface[] =>
    one.interface === undefined ? [] : [one.interface],
  );
  return [
    sender.label,
    ...sender.legs.map((leg) => `${sender.label} leg ${leg.index + 1}`),
    ...takers.flatMap(({ receiver, index }) => [receiver.label, `${receiver.label} leg ${index + 1}`]),
    ...hosts.flatMap(({ device, name, port }) => [
      device.name,
      `${device.name} ${name}`,
      ...(port === undefined ? [] : [`${port.switch.name}/${port.name}`]),
    ]),
  ];
}

function drawn({ legs }: Trace): readonly ReceiverLeg[] {
  return legs.flatMap(({ stages }) => stages.flatMap(({ reached }) => reached));
}

describe.each(['heron-broken', 'dunlin-broken'])('%s', (rig) => {
  const loaded = loadPlan(readInputs([BAY + rig]).inputs);
  const model = createModel(loaded.plan);
  const judged = lintLoaded(loaded, RULES, { today: '2026-06-01', model });
  const errors = judged.findings.filter(({ severity }) => severity === 'error');
  const denied = new Set(judged.receivers?.notDelivered.map(({ receiverLeg }) => receiverLeg));

  it('has errors on streams, and legs that are not delivered', () => {
    expect(errors.length).toBeGreaterThan(10);
    expect(denied.size).toBeGreaterThan(0);
  });

  it('says at the head of a trace every error on the stream or its ends, and draws nothing that is denied', () => {
    let said = 0;
    for (const sender of loaded.plan.senders) {
      const way = traceStream(loaded, sender.label, { findings: judged.findings, model });
      if ('unknown' in way) throw new Error(`${sender.label} is not known`);
      const names = new Set(namesOf(sender, takersOf(loaded, sender)));
      const own = errors.filter(({ parties }: Finding) => parties.some((party) => names.has(party)));
      for (const finding of own) expect(way.findings, `${sender.label}: ${finding.rule}`).toContain(finding);
      said += own.length;
      for (const one of way.traces.flatMap(drawn)) expect(denied.has(one), one.receiver.label).toBe(false);
      if (own[0] === undefined) continue;
      const head = reportTraceText(way, { version: '0', width: 100, colour: false }).split('\nLEG ')[0];
      expect(head).toContain(`ERROR ${own[0].rule}`);
    }
    expect(said).toBeGreaterThan(10);
  });
});
