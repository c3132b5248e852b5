import type { FindingWords, Sender } from '../../../src/doors/rule.js';
import type { DescribedFact } from '../../../src/doors/streams.js';

export interface Facts {
  readonly sender: Sender;
  /** What the description calls it. */
  readonly description: string;
  readonly differences: readonly {
    readonly fact: DescribedFact;
    readonly planned: string;
    readonly described: string;
    /** Legs from 1; none where it is about all of them, or about the format. */
    readonly legs: readonly number[];
  }[];
}

export interface Note {
  readonly fact: DescribedFact;
  readonly value: string;
}

export function words({ sender, description, differences }: Facts): FindingWords<Note> {
  const summaries = differences.map(
    ({ fact, planned, described, legs }) =>
      `${said(fact, described)}, planned ${said(fact, planned)}${legs.length === 0 ? '' : ` (leg ${legs.join(' and ')})`}`,
  );
  return {
    what: `the description ${description} of ${sender.label} contradicts the plan: ${summaries.join('; ')}`,
    onAir:
      'receivers set up from the description and receivers set up from the plan expect two different streams: one of the two shows nothing, or shows it wrong',
    fix: 'set the sender as planned and export its SDP again, or put the described values into the plan',
    label: (name, { fact, value }) => `${name}: ${said(fact, value)}`,
  };
}

/** Values of a format speak for themselves. */
function said(fact: DescribedFact, value: string): string {
  const title = TITLES.get(fact);
  return title === undefined ? value : `${title} ${value}`;
}

const TITLES: ReadonlyMap<DescribedFact, string> = new Map([
  ['port', 'port'],
  ['payloadType', 'payload type'],
  ['ttl', 'TTL'],
  ['packetTime', 'packet time'],
]);
