import { legLabel, type FindingWords, type Leg } from '../../../src/doors/rule.js';

/** 232.0.0.0 itself, the rest of 232.0.0.0/24, or group identifiers 4000:0 to 7fff:ffff of IPv6. */
export type Reserved = 'no-destination' | 'iana-4' | 'iana-6';

export interface Facts {
  readonly leg: Leg;
  readonly group: string;
  readonly reserved: Reserved;
}

export function words({ leg, group, reserved }: Facts): FindingWords<'reserved'> {
  const ipv4 = reserved !== 'iana-6';
  return {
    what: `${legLabel(leg)} sends to ${group}, which ${WHY[reserved]}`,
    onAir: ipv4
      ? 'many switches treat this group like control traffic and flood it to every port; some gear refuses to send or join it, so the stream never arrives'
      : 'gear that keeps to the standard refuses to send or join it, so the stream never arrives',
    fix: ipv4
      ? 'give it a free group from 232.0.1.0 upwards (not in 232.128.0.0/24, which switches flood too)'
      : 'give it a group with an identifier from 8000:0 to ffff:ffff, as in ff3x::8000:1',
    label: (name) => `${name}: sends to a reserved group`,
  };
}

const WHY: Readonly<Record<Reserved, string>> = {
  'no-destination': 'must not be used as a destination',
  'iana-4': 'lies in 232.0.0.0/24, kept for assignment by IANA',
  'iana-6': 'is no free source-specific group: group IDs 4000:0 to 7fff:ffff are reserved for IANA',
};
