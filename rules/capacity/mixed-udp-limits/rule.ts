import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  eachInput,
  inRig,
  legLabel,
  mapAll,
  mark,
  noted,
  otherPlaces,
  type FindingDraft,
  type Format,
  type Model,
  type Plan,
} from '../../../src/doors/rule.js';
import { mixedLimits, udpLimitOf, unsaidMtus } from '../../../src/doors/capacity.js';
import { words, type Facts, type Note } from './words.js';

type Draft = FindingDraft<Facts, Note>;

export default defineRule<Facts, Note>({
  id: 'capacity/mixed-udp-limits',
  summary: 'Not everything on the way of a stream is set for its large packets',
  severity: 'error',
  people: 'what the receivers can take',
  sources: [
    clause('ST 2110-10', '6.4'),
    clause('ST 2110-10', '8.6'),
    commonPractice('ports take 1500 octets until they are set for more'),
  ],
  needs: ['extendedPackets'],
  brief: 'large packets not allowed all the way',
  harm: 'spoils',
  *check({ plan, model }) {
    yield* receiverFindings(plan);
    yield* unsaidFindings(plan, model);
  },
  words,
});

/** Receivers set to a format without the sender's size. */
function* receiverFindings(plan: Plan): Iterable<Draft> {
  const mixed = mixedLimits(plan).map((one) => ({ ...one, receivers: byLabel(one.receivers, ({ label }) => label) }));
  for (const { sent, expected, receivers: all } of byLabel(
    mixed,
    (one) => `${titleOf(one.sent)} ${titleOf(one.expected)} ${one.receivers[0].label}`,
  )) {
    const receivers = eachInput(all);
    const [first] = receivers;
    const senders = byLabel([...new Set(all.flatMap(({ takes }) => takes ?? []))], ({ label }) => label);
    const sentOctets = udpLimitOf(sent);
    const limitOctets = udpLimitOf(expected);
    const stated = expected.maxUdpOctets !== undefined;
    const at = noted(mark(expected, titleOf(expected), 'maxUdp'), { octets: limitOctets, stated });
    yield {
      subject: `${titleOf(sent)} taken as ${titleOf(expected)}${expected.name === undefined ? ` by ${first.label}` : ''}${inRig(first.rig)}`,
      parties: [...senders, ...receivers].map(({ label }) => label),
      confidence: stated ? 'certain' : 'assumed',
      facts: { form: 'receivers', receivers, senders, limitOctets, sentOctets },
      at,
      others: otherPlaces<Note>(at, [
        noted(mark(sent, titleOf(sent), 'maxUdp'), { octets: sentOctets, stated: true }),
        ...receivers.map((receiver) => mark(receiver, receiver.label, 'format')),
      ]),
      touch: { kind: 'device', name: first.device.name },
      sources: [clause('ST 2110-10', '6.4'), clause('ST 2110-10', '8.6')],
    };
  }
}

/** Large packets where neither the VLAN nor any port on the way states what it takes. */
function* unsaidFindings(plan: Plan, { network, rates }: Model): Iterable<Draft> {
  for (const one of byLabel(unsaidMtus(plan, network, rates), ({ vlan }) => vlan.name)) {
    const { vlan, ipOctets } = one;
    const legs = byLabel(one.legs, legLabel);
    const at = noted(mark(vlan, `VLAN ${vlan.name}`), 'no mtu');
    const formats = legs.flatMap(({ sender }) => sender.format ?? []);
    yield {
      subject: `VLAN ${vlan.name}${inRig(vlan.rig)}`,
      parties: mapAll(legs, legLabel),
      severity: 'warning',
      confidence: 'assumed',
      facts: { form: 'unsaid', vlan, legs, ipOctets },
      at,
      others: otherPlaces(
        at,
        formats.map((format) => mark(format, titleOf(format), 'maxUdp')),
      ),
      touch: { kind: 'vlan', name: vlan.name },
      sources: [clause('ST 2110-10', '6.4'), commonPractice('ports take 1500 octets until they are set for more')],
    };
  }
}

function titleOf({ name }: Format): string {
  return `format ${name ?? 'without a name'}`;
}
