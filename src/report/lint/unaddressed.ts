/** Interfaces that need an address and state none, in words and as data. */
import { type AddressNeed, ownerLabel, type Unaddressed } from '../../model/hosts/index.js';
import { prose, say, sayNames, type Phrase } from '../../page/phrase.js';
import { agree, counted } from '../../words/counts.js';

const MOST_NAMES = 12;
const NEEDS: readonly AddressNeed[] = ['streams', 'ptp', 'subnet'];

/** What to write, and where: one line a need. */
export function unaddressedWords(unaddressed: readonly Unaddressed[]): readonly Phrase[] {
  return NEEDS.flatMap((need) => {
    const names = namesOf(unaddressed, need);
    if (names.length === 0) return [];
    const { does, write } = wordsOf(need, names.length);
    return [
      say`${counted(names.length, 'interface')} that ${prose(does)} (${sayNames(names, MOST_NAMES)}): ${prose(write)}`,
    ];
  });
}

function wordsOf(need: AddressNeed, count: number): { readonly does: string; readonly write: string } {
  const write = 'give each an `address`, or `dhcp: true`';
  switch (need) {
    case 'streams':
      return { does: `${agree(count, 'sends or receives', 'send or receive')} streams`, write };
    case 'ptp':
      return { does: `${agree(count, 'takes', 'take')} part in PTP over UDP`, write };
    case 'subnet':
      return {
        does: `${agree(count, 'stands', 'stand')} in a VLAN with a subnet`,
        write: `${write}, or \`unnumbered: true\` where it has none`,
      };
  }
}

function namesOf(unaddressed: readonly Unaddressed[], need: AddressNeed): readonly string[] {
  return unaddressed.flatMap((one) => (one.need === need ? [ownerLabel(one.interface)] : []));
}

export function unaddressedJson(unaddressed: readonly Unaddressed[]): object {
  return Object.fromEntries(NEEDS.map((need) => [need, namesOf(unaddressed, need)]));
}
