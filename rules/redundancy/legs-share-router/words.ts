import { agree, listNames, type Device, type FindingWords, type Sender, type Switch } from '../../../src/doors/rule.js';

export interface Facts {
  readonly router: Switch | Device;
  readonly streams: readonly Sender[];
  /** Those who get both legs through it. */
  readonly receivers: readonly string[];
  /** Whether routers had the choice among equal paths, and the plan does not say how it falls. */
  readonly assumed: boolean;
}

export type Note = 'shared';

export function words({ router, streams, receivers, assumed }: Facts): FindingWords<Note> {
  const names = listNames(
    streams.map(({ label }) => label),
    4,
  );
  return {
    what: `both legs of ${names} go through ${router.name} to ${listNames(receivers, 4)}${assumed ? ', as the plan does not say which of equal paths routers take' : ''}`,
    onAir: `when ${router.name} fails, both legs are gone until the routers have found the other path, some milliseconds to many seconds: ${agree(streams.length, 'the stream breaks', 'the streams break')}, although ${agree(streams.length, 'it has', 'they have')} two legs`,
    fix: `keep the legs apart by \`metric\`: raise it where the routers of one leg have ${router.name} next, so that they take the other; or give each leg routers of its own`,
    label: (name) => `${name}: both legs`,
  };
}
