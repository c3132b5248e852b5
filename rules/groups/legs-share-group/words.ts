import type { FindingWords, Interface, Sender } from '../../../src/doors/rule.js';
import { groupMoveWords, type GroupMoveFact } from '../../../src/doors/groups.js';

export interface Facts {
  readonly sender: Sender;
  readonly group: string;
  readonly where: string;
  /** Both leave from one source: the network can't tell the copies apart. */
  readonly onePath: boolean;
  /** All legs have a source. */
  readonly sourcesKnown: boolean;
  /** The leg to change, from 1. */
  readonly leg: number;
  /** Where both are on one network: the interface to send it from, or that there is none yet. */
  readonly sendFrom: Interface | 'other-network' | undefined;
  /** Who gets which group: the second leg, or both; empty where none is free. */
  readonly moves: readonly GroupMoveFact[];
}

export function words({
  sender,
  group,
  where,
  onePath,
  sourcesKnown,
  leg,
  sendFrom,
  moves,
}: Facts): FindingWords<'move'> {
  const sources = onePath ? ', from one source' : sourcesKnown ? ', which forwards by group whatever the source' : '';
  const [only, ...more] = moves;
  const own =
    only === undefined
      ? `give leg ${leg} a group of its own`
      : more.length === 0
        ? `give leg ${leg} a group of its own: ${only.group}`
        : groupMoveWords(
            moves,
            moves.map((one) => one.leg),
          );
  const via = sendFrom === 'other-network' ? 'an interface on the other network' : `interface ${sendFrom?.name ?? ''}`;
  return {
    what: `both legs of ${sender.label} send to ${group} in ${where}${sources}`,
    onAir: onePath
      ? 'the network treats the two copies as one stream on one path: when a cable or switch of it fails, both are lost and the output goes black'
      : 'each receiver gets both copies on each of its ports: twice the load, and a port that is full drops packets of both',
    fix: sendFrom === undefined ? own : `send leg ${leg} from ${via}, and ${own}`,
    label: (name) => `${name}: give this one another group`,
  };
}
