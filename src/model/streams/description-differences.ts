/** Where a description of a stream contradicts what is planned. */
import { formatTime } from '../../values/quantity.js';
import type { Entity, Format, Leg, Sender } from '../../plan/types.js';
import { formatDifferences, packetTimesDiffer } from './format-differences.js';

/** Number of a leg, or member of a format. */
export type DescribedFact = 'port' | 'payloadType' | 'ttl' | 'packetTime' | keyof Format;

/** An entity and the key of what it says. */
export interface Said {
  readonly entity: Entity;
  readonly key: string;
}

export interface DescriptionDifference {
  /** Leg it is about, from 0; absent for the format. */
  readonly leg: number | undefined;
  readonly fact: DescribedFact;
  /** Values with their units. */
  readonly planned: string;
  readonly described: string;
  /** Where the description says its value, and the plan the other. */
  readonly at: Said;
  readonly beside: Said;
  /** The stream still plays for most receivers. */
  readonly slight: boolean;
}

/** All differences of a description from the stream it describes. */
export function descriptionDifferences(planned: Sender, described: Sender): readonly DescriptionDifference[] {
  return [...described.legs.flatMap((leg) => legDifferences(planned, leg)), ...differencesOfFormat(planned, described)];
}

function legDifferences(planned: Sender, described: Leg): readonly DescriptionDifference[] {
  const leg = counterpart(planned, described);
  if (leg === undefined) return [];
  const numbers = (['port', 'payloadType', 'ttl'] as const).flatMap((fact): readonly DescriptionDifference[] => {
    const a = leg[fact];
    const b = described[fact];
    if (a === undefined || b === undefined || a === b) return [];
    const at = { entity: described, key: fact };
    const beside = { entity: leg, key: fact };
    return [{ leg: leg.index, fact, planned: String(a), described: String(b), at, beside, slight: fact === 'ttl' }];
  });
  const { packetTimeNs: a } = leg;
  const { packetTimeNs: b } = described;
  if (a === undefined || b === undefined || !packetTimesDiffer(a, b)) return numbers;
  return [
    ...numbers,
    {
      leg: leg.index,
      fact: 'packetTime',
      planned: formatTime(a),
      described: formatTime(b),
      at: packetTimePlace(described),
      beside: packetTimePlace(leg),
      slight: false,
    },
  ];
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
function packetTimePlace(leg: Leg): Said {
  const { format } = leg.sender;
  return format?.packetTimeNs === leg.packetTimeNs && format !== undefined
    ? { entity: format, key: 'packetTime' }
    : { entity: leg, key: 'packetTime' };
}

function differencesOfFormat(planned: Sender, described: Sender): readonly DescriptionDifference[] {
  const { format: a } = planned;
  const { format: b } = described;
  if (a === undefined || b === undefined) return [];
  return formatDifferences(a, b).map(({ member, first, second }) => {
    const key = member === 'sampleRateHz' ? 'sampleRate' : member;
    const at = { entity: b, key };
    return {
      leg: undefined,
      fact: member,
      planned: first,
      described: second,
      at,
      beside: { entity: a, key },
      slight: false,
    };
  });
}
