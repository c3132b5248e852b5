import { agree, listNames, receiverLegLabel, type FindingWords, type ReceiverLeg } from '../../../src/doors/rule.js';

export interface Facts {
  readonly legs: readonly ReceiverLeg[];
  /** The source-specific groups they join. */
  readonly groups: readonly string[];
  /** Addresses that send to these, as far as known. */
  readonly sources: readonly string[];
}

export type Note = 'anySource';

export function words({ legs, groups, sources }: Facts): FindingWords<Note> {
  const named = sources.length === 0 ? '' : `, ${listNames(sources, 3)}`;
  return {
    what: `${listNames(legs.map(receiverLegLabel), 4)} ${agree(legs.length, 'joins', 'join')} ${listNames(groups, 4)} from any source, but ${agree(groups.length, 'that group is', 'those groups are')} source-specific`,
    onAir:
      'routers and switches that keep to source-specific rules ignore such a join: no picture or sound at all, though the stream is there',
    fix: `have ${agree(legs.length, 'it', 'them')} name the sender's address in the join (\`join: stated\`${named}), or move the stream to an any-source group`,
    label: (name) => `${name}: joins any source`,
  };
}
