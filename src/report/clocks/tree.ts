/** Every leader with its followers, as deep as they are far from it. */
import type { Clock, Island, Outcome, TimingState } from '../../model/timing/index.js';
import type { OutlineLine } from '../../page/page.js';
import { prose, say, sayNames, title, type Phrase } from '../../page/phrase.js';
import { qualityWords } from '../../words/clocks.js';
import { counted } from '../../words/counts.js';

/** At most so many names of those that nobody follows; the others have a line each. */
export function treeLines({ leaders }: Island, state: TimingState, most: number): readonly OutlineLine[] {
  const lines: OutlineLine[] = [];
  // A stack, not recursion: a chain of boundary clocks may be as long as the plan.
  const open = leaders.map(({ clock }) => ({ clock, depth: 0 })).reverse();
  for (let at = open.pop(); at !== undefined; at = open.pop()) {
    const { clock, depth } = at;
    lines.push(lineAt(depth, clock.name, depth === 0 ? claim(clock) : throughWords(state.outcomeOf(clock))));
    const followers = state.followersOf(clock).map((one) => one.clock);
    const isFollowed = (one: Clock): boolean => state.followersOf(one).length > 0;
    const leaves = followers.filter((one) => !isFollowed(one)).map((one) => one.name);
    if (leaves.length > 0)
      lines.push(lineAt(depth + 1, 'and', say`${counted(leaves.length, 'clock')}: ${sayNames(leaves, most)}`));
    for (const next of followers.filter(isFollowed).reverse()) open.push({ clock: next, depth: depth + 1 });
  }
  return lines;
}

function lineAt(depth: number, what: string, text: Phrase): OutlineLine {
  return { depth, text: say`${title(what)} ${text}` };
}

function claim(clock: Clock): Phrase {
  return prose(`(${qualityWords(clock)})`);
}

function throughWords(outcome: Outcome | undefined): Phrase {
  const parent = outcome?.parent;
  const port = parent === undefined ? undefined : outcome?.clock.ports[parent.through]?.attachment;
  if (outcome === undefined || port === undefined) return [];
  const networks = [...port.networks].map((one) => one.name);
  const where = networks.length === 0 ? say`port ${port.name}` : say`${sayNames(networks)}, port ${port.name}`;
  return say`(${where}, ${counted(outcome.stepsRemoved, 'step')} from ${outcome.grandmaster.name})`;
}
