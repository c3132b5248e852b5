/** Where groups belong and how legs move there, in words. */
import type { Destination, DestinationKind, FreeMoves, Moves } from '../model/proposals/index.js';
import { legLabel } from './labels.js';
import { listNames } from './lists.js';

/** In words that follow "a free group in". */
export function destinationWords(destinations: readonly Destination[]): string {
  if (destinations.length === 1) return destinations.map(placeWords).join('');
  return listNames(
    destinations.map((one) => `${placeWords(one)} for ${listNames(one.legs.map(legLabel), 2)}`),
    3,
  );
}

function placeWords({ kind, ranges }: Destination): string {
  if (kind === 'conventions') return `the conventions' ${ranges.join(' or ')}`;
  return kind === 'practice' ? listNames(ranges, 3) : BLOCKS[kind];
}

const BLOCKS: Readonly<Record<Exclude<DestinationKind, 'conventions' | 'practice'>, string>> = {
  'organization-4': '239.192.0.0/14 (the Organization Local Scope)',
  'organization-6': 'ff18::/16 (organization-local scope)',
  'ssm-4': '232.1.0.0-232.127.255.255 (source-specific)',
  'ssm-6': 'ff38::8000:0-ff38::ffff:ffff (source-specific)',
};

/** `move it to a free group in …`, or each leg with the group the conventions map it to. */
export function moveWords({ mapped, to, several }: Moves, verb: 'move' | 'give' = 'move'): string {
  const into = verb === 'move' ? 'to ' : '';
  const whole = to.length === 0 ? '' : destinationWords(to);
  if (mapped.length === 0) return `${verb} ${several ? 'each' : 'it'} ${into}a free group in ${whole}`;
  const follows = `as the conventions' map asks for beside ${mapped.length === 1 ? 'its other leg' : 'their other legs'}`;
  const left = to.flatMap(({ legs }) => legs);
  const others = left.length === 0 ? '' : `, and ${listNames(left.map(legLabel), 3)} ${into}a free group in ${whole}`;
  return `${verb} ${listNames(mapped.map(({ leg, group }) => `${legLabel(leg)} ${into}${group}`))}, ${follows}${others}`;
}

/** The same where any free group will do; `but` are words on which groups of the ranges will not. */
export function freeMoveWords(free: FreeMoves, but: string): string {
  switch (free.form) {
    case 'many':
      return `${moveWords(free.moves)}${but}`;
    case 'to':
      return `move ${free.several ? 'each' : 'it'} to a free group in ${destinationWords(free.to)}${but}`;
    case 'free':
      return `move ${listNames(free.moves.map(({ leg, group }) => `${legLabel(leg)} to ${group}`))}, free in this plan`;
  }
}
