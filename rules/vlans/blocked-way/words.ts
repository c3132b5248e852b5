import {
  agree,
  linkLabel,
  listNames,
  withId,
  type FindingWords,
  type Link,
  type NonEmpty,
  type Switch,
  type Vlan,
} from '../../../src/doors/rule.js';
import { treeDoubtWords, type TreeDoubt } from '../../../src/doors/vlans.js';

export interface Facts {
  readonly vlan: Vlan;
  readonly between: readonly [Switch, Switch];
  readonly blocked: NonEmpty<{ readonly link: Link; readonly at: Switch | undefined }>;
  readonly root: Switch;
  /** Links on the way the tree leaves that do not carry it. */
  readonly lacking: readonly Link[];
  /** Empty where it is parted while nothing is lost. */
  readonly after: readonly Link[];
  readonly doubts: readonly TreeDoubt[];
}

export type Note = { readonly kind: 'lacks'; readonly vlan: Vlan } | { readonly kind: 'blocked' | 'lost' };

export function words(facts: Facts): FindingWords<Note> {
  const { vlan, between, lacking, after, doubts } = facts;
  const [from, to] = between.map(({ name }) => name);
  const lost = after.length === 0 ? '' : `once link ${listNames(after.map(linkLabel), 4, 'or')} is lost, `;
  return {
    what: `${lost}VLAN ${withId(vlan)} does not get from switch ${from ?? ''} to switch ${to ?? ''}: ${blockedWords(facts)}, and the tree asks for no VLAN`,
    onAir:
      after.length === 0
        ? 'nothing of this VLAN passes between them from the start, though every link is up and its trunks carry the VLAN'
        : 'that loss takes the streams of this VLAN off air, though another link that carries it is up',
    fix: `${lacking.length === 0 ? 'carry the VLAN on every link of the loop' : `carry ${withId(vlan)} on ${agree(lacking.length, 'link')} ${listNames(lacking.map(linkLabel), 6)} as well, at both ends`}${doubts.length === 0 ? '' : `; the tree is assumed: ${listNames(doubts.map(treeDoubtWords))}`}`,
    label: (name, note) =>
      note.kind === 'lacks'
        ? `${name} does not carry ${note.vlan.name}`
        : `${name}: ${note.kind === 'lost' ? 'when this one is lost' : 'blocked'}`,
  };
}

function blockedWords({ blocked, root, doubts }: Facts): string {
  const links = blocked.map(({ link, at }) => `${linkLabel(link)}${at === undefined ? '' : ` at ${at.name}`}`);
  const tree = `with ${root.name} ${doubts.length === 0 ? 'as' : 'taken for'} the root, the spanning tree keeps`;
  return `${tree} ${agree(links.length, 'link')} ${listNames(links, 4)} blocked`;
}
