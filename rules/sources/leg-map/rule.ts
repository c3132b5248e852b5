import {
  byLabel, commonPractice, defineRule, formatAddress, groupBy, imageOf, legLabel, listNames, preimageOf, sourceMark, touchOf,
  type Address, type Sender,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'sources/leg-map',
  summary: 'The second leg does not leave from the address the house derives from the first leg',
  severity: 'warning',
  sources: [commonPractice('the same host number on both sides, red and blue')],
  needs: ['houseLegMap', 'pairs', 'sources'],
  *check({ plan }) {
    const broken = plan.senders.filter((sender) => pairOf(sender) !== undefined);
    // One wrong interface address shows in every stream of the device.
    for (const [, list] of groupBy(broken, keyOf)) {
      const senders = byLabel(list, ({ label }) => label);
      const [sender] = senders;
      const pair = sender === undefined ? undefined : pairOf(sender);
      const [one, two] = sender?.legs ?? [];
      if (sender === undefined || pair === undefined || one === undefined || two === undefined) continue;
      const first = formatAddress(pair.first);
      const second = formatAddress(pair.second);
      const names = senders.map(({ label }) => label);
      const wanted = pair.wanted === undefined ? undefined : formatAddress(pair.wanted);
      const whose = pair.wantedFirst === undefined ? '' : ` (${second} belongs to ${formatAddress(pair.wantedFirst)})`;
      const atFirst = sourceMark(one, `${legLabel(one)}: leaves from ${first}`);
      const atSecond = sourceMark(two, `${legLabel(two)}: leaves from ${second}`);
      yield {
        subject: `${first} ${second}`,
        parties: names,
        what: `${listNames(names)} ${senders.length === 1 ? 'leaves' : 'leave'} from ${first} and ${second}, but ${wanted === undefined
          ? `${first} is in none of the house's blocks for first legs${whose}`
          : `the house wants ${wanted} beside ${first}`}`,
        at: wanted === undefined ? atFirst : atSecond,
        others: [wanted === undefined ? atSecond : atFirst],
        onAir: 'nothing while all is well; whoever works out the second address from the first in a hurry takes another one, and the second path stays dark',
        fix: wanted === undefined
          ? `give the first leg ${pair.wantedFirst === undefined ? 'an address of the house\'s blocks' : formatAddress(pair.wantedFirst)}`
          : `give the second leg ${wanted}, or change the house's \`legMap\``,
        touch: touchOf(sender),
      };
    }
  },
});

interface Pair {
  readonly first: Address;
  readonly second: Address;
  /** What the house derives from the first address. */
  readonly wanted: Address | undefined;
  /** What the second address is derived from. */
  readonly wantedFirst: Address | undefined;
}

/** The sources of the two legs, where they break the house's map. */
function pairOf(sender: Sender): Pair | undefined {
  const map = sender.rig.house.sourceMap;
  if (map.length === 0) return undefined;
  const first = sender.legs[0]?.source;
  const second = sender.legs[1]?.source;
  if (first === undefined || second === undefined) return undefined;
  const wanted = imageOf(first, map);
  if (wanted === second) return undefined;
  const wantedFirst = preimageOf(second, map);
  return wanted === undefined && wantedFirst === undefined ? undefined : { first, second, wanted, wantedFirst };
}

function keyOf(sender: Sender): string {
  return `${String(sender.legs[0]?.source)} ${String(sender.legs[1]?.source)}`;
}
