import { legLabel, type FindingWords, type Leg, moveWords, type Moves } from '../../../src/doors/rule.js';

/** 232.0.0.0 itself, the rest of 232.0.0.0/24, or group identifiers 4000:0 to 7fff:ffff of IPv6. */
export type Reserved = 'no-destination' | 'iana-4' | 'iana-6';

export interface Facts {
  readonly leg: Leg;
  readonly group: string;
  readonly reserved: Reserved;
  /** Where it belongs instead, by the conventions, its map and its practice. */
  readonly moves: Moves;
}

export function words({ leg, group, reserved, moves }: Facts): FindingWords<'reserved'> {
  const ipv4 = reserved !== 'iana-6';
  return {
    what: `${legLabel(leg)} sends to ${group}, which ${WHY[reserved]}`,
    onAir: ipv4
      ? 'many switches treat this group like control traffic and flood it to every port; some gear refuses to send or join it, so the stream never arrives'
      : 'gear that keeps to the standard refuses to send or join it, so the stream never arrives',
    fix: moveWords(moves, 'move'),
    label: (name) => `${name}: sends to a reserved group`,
  };
}

const WHY: Readonly<Record<Reserved, string>> = {
  'no-destination': 'must not be used as a destination',
  'iana-4': 'lies in 232.0.0.0/24, kept for assignment by IANA',
  'iana-6': 'is no free source-specific group: group IDs 4000:0 to 7fff:ffff are reserved for IANA',
};
