import {
  clause,
  defineRule,
  formatDifferences,
  formatTime,
  groupBy,
  mark,
  packetTimesDiffer,
  touchOf,
  type Entity,
  type Leg,
  type Sender,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'streams/description-differs',
  summary: 'A description of a stream contradicts the plan',
  severity: 'error',
  sources: [clause('RFC 8866', '5.14'), clause('RFC 8866', '5.7'), clause('ST 2110-10', '8.1')],
  needs: ['descriptions'],
  *check({ plan }) {
    for (const [planned, ofPlanned] of groupBy(plan.descriptions, ({ of }) => of)) {
      for (const [name, list] of groupBy(ofPlanned, ({ sender }) => sender.label)) {
        const found = distinct(list.flatMap(({ sender }) => differences(planned, sender)));
        const [first, ...rest] = found;
        if (first === undefined) continue;
        yield {
          subject: `${planned.label} described as ${name}`,
          parties: [planned.label, name],
          severity: found.every(({ slight }) => slight) ? 'warning' : 'error',
          what: `the description ${name} of ${planned.label} contradicts the plan: ${summaries(found, planned).join('; ')}`,
          at: mark(first.at.entity, `${name}: ${first.described}`, first.at.key),
          others: [
            mark(first.beside.entity, `${planned.label}: ${first.planned}`, first.beside.key),
            ...rest.flatMap((one) => [
              mark(one.at.entity, `${name}: ${one.described}`, one.at.key),
              mark(one.beside.entity, `${planned.label}: ${one.planned}`, one.beside.key),
            ]),
          ],
          onAir:
            'receivers set up from the description and receivers set up from the plan expect two different streams: one of the two shows nothing, or shows it wrong',
          fix: 'set the sender as planned and take its description anew, or put the described values into the plan',
          touch: touchOf(planned),
        };
      }
    }
  },
});

interface Written {
  readonly entity: Entity;
  readonly key: string;
}

interface Difference {
  /** Leg it is about, from 0; absent for the format. */
  readonly leg: number | undefined;
  readonly planned: string;
  readonly described: string;
  readonly at: Written;
  readonly beside: Written;
  /** The stream still plays for most receivers. */
  readonly slight: boolean;
}

function differences(planned: Sender, described: Sender): readonly Difference[] {
  return [...described.legs.flatMap((leg) => legDifferences(planned, leg)), ...differencesOfFormat(planned, described)];
}

function legDifferences(planned: Sender, described: Leg): readonly Difference[] {
  const leg = counterpart(planned, described);
  if (leg === undefined) return [];
  const found: Difference[] = [];
  const compare = (title: string, key: 'port' | 'payloadType' | 'ttl', slight: boolean): void => {
    const a = leg[key];
    const b = described[key];
    if (a === undefined || b === undefined || a === b) return;
    found.push({
      leg: leg.index,
      planned: `${title} ${a}`,
      described: `${title} ${b}`,
      at: { entity: described, key },
      beside: { entity: leg, key },
      slight,
    });
  };
  compare('port', 'port', false);
  compare('payload type', 'payloadType', false);
  compare('TTL', 'ttl', true);
  const { packetTimeNs: a } = leg;
  const { packetTimeNs: b } = described;
  if (a !== undefined && b !== undefined && packetTimesDiffer(a, b)) {
    found.push({
      leg: leg.index,
      planned: `packet time ${formatTime(a)}`,
      described: `packet time ${formatTime(b)}`,
      at: packetTimePlace(described),
      beside: packetTimePlace(leg),
      slight: false,
    });
  }
  return found;
}

/** The planned leg of the same destination; of several, the one with the described source or place. */
function counterpart(planned: Sender, described: Leg): Leg | undefined {
  const destination = described.group ?? described.unicast;
  const fitting = planned.legs.filter((leg) => (leg.group ?? leg.unicast) === destination);
  return (
    fitting.find((leg) => leg.source !== undefined && leg.source === described.source) ??
    fitting.find((leg) => leg.index === described.index) ??
    fitting[0]
  );
}

/** On the leg, or in the format it comes from. */
function packetTimePlace(leg: Leg): Written {
  const { format } = leg.sender;
  return format?.packetTimeNs === leg.packetTimeNs && format !== undefined
    ? { entity: format, key: 'packetTime' }
    : { entity: leg, key: 'packetTime' };
}

function differencesOfFormat(planned: Sender, described: Sender): readonly Difference[] {
  const { format: a } = planned;
  const { format: b } = described;
  if (a === undefined || b === undefined) return [];
  return formatDifferences(a, b).map((one) => {
    const key = one.member === 'sampleRateHz' ? 'sampleRate' : one.member;
    return {
      leg: undefined,
      planned: one.first,
      described: one.second,
      at: { entity: b, key },
      beside: { entity: a, key },
      slight: false,
    };
  });
}

/** A file may be given twice: each difference once. */
function distinct(found: readonly Difference[]): readonly Difference[] {
  return [...new Map(found.map((one) => [`${one.leg ?? 'format'} ${one.described} ${one.planned}`, one])).values()];
}

/** `payload type 98, planned 97`, with the leg where not all legs are concerned. */
function summaries(found: readonly Difference[], { legs }: Sender): readonly string[] {
  return [...groupBy(found, ({ described, planned }) => `${described}, planned ${planned}`)].map(([text, list]) => {
    const concerned = list.flatMap(({ leg }) => leg ?? []);
    return concerned.length === 0 || concerned.length === legs.length
      ? text
      : `${text} (leg ${concerned.map((index) => index + 1).join(' and ')})`;
  });
}
