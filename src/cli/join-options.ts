/** The plain ways to join, said on the command line instead of in a join file. */
import type { Input } from '../read/index.js';
import { UsageError } from './exit.js';

export interface JoinOptions {
  readonly one?: readonly string[];
  readonly meet?: readonly string[];
  readonly tie?: readonly string[];
}

/** A join file as if somebody had written it; none where no option is used. */
export function joinOptions({ one = [], meet = [], tie = [] }: JoinOptions): readonly Input[] {
  if (one.length + meet.length + tie.length === 0) return [];
  const document = {
    rigproof: 1,
    rig: 'joined',
    joins: [
      ...one.map((text) => ({ vlans: parts(text, '--one', 'Heron:control=Dunlin:control') })),
      ...meet.map((text) => ({ networks: parts(text, '--meet', 'Heron:red=Dunlin:red') })),
    ],
    links: tie.map((text) => ({ ends: parts(text, '--tie', 'Heron:red-core/4=Dunlin:fly-red-1/24', 2) })),
  };
  return [{ name: 'join.json', format: 'json', text: `${JSON.stringify(document, undefined, 2)}\n` }];
}

function parts(text: string, option: string, example: string, exactly?: number): readonly string[] {
  const names = text.split('=').map((name) => name.trim());
  if (names.length < 2 || names.includes('') || (exactly !== undefined && names.length !== exactly))
    throw new UsageError(`write ${option} as ${example}, not ${text}`);
  return names;
}
