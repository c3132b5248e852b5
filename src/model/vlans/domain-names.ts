/** What the domains of a plan are called: made for all at once, so that no two share a title. */
import { kept } from '../../collections/kept.js';
import { byCodeUnit } from '../../collections/order.js';
import type { UnionFind } from '../../collections/union-find.js';
import type { Domain } from './domain.js';
import type { Node, Nodes } from './domain-nodes.js';

/** Domains with their names; names are made for all at once, so that no two share a title. */
export function describer(union: UnionFind<Node>, nodes: Nodes, joined: string): (node: Node) => Domain {
  let byRoot: Map<Node, Domain> | undefined;
  return (node) => {
    byRoot ??= describeAll(union, nodes, joined);
    return kept(byRoot, union.find(node), () => describe([node], joined));
  };
}

function describeAll(union: UnionFind<Node>, nodes: Nodes, joined: string): Map<Node, Domain> {
  const members = new Map<Node, Node[]>();
  for (const node of nodes.all()) kept(members, union.find(node), (): Node[] => []).push(node);
  const plain = [...members].map(([root, own]) => ({ root, domain: describe(own, joined) }));
  const byRig = apart(plain, ({ domain }) => {
    const rigs = [...new Set(domain.vlans.map(({ rig }) => rig.name))].sort();
    return rigs.join('') === '' ? '' : ` of ${rigs.join(' and ')}`;
  });
  const bySwitch = apart(byRig, ({ domain }) => onSwitches(domain));
  // Keys stay as they are where a link fault elsewhere splits a VLAN.
  return new Map(
    bySwitch.map(({ root, domain }, index) => [root, { ...domain, key: byRig[index]?.domain.key ?? domain.key }]),
  );
}

interface NamedDomain {
  readonly root: Node;
  readonly domain: Domain;
}

/** Adds a word to the names of domains that share a key, where the word tells them apart. */
function apart(named: readonly NamedDomain[], word: (one: NamedDomain) => string): readonly NamedDomain[] {
  const words = new Map<string, Set<string>>();
  for (const one of named) kept(words, one.domain.key, () => new Set<string>()).add(word(one));
  return named.map((one) => {
    const { domain } = one;
    if ((words.get(domain.key)?.size ?? 0) < 2) return one;
    return {
      root: one.root,
      domain: { ...domain, title: `${domain.title}${word(one)}`, key: `${domain.key}${word(one)}` },
    };
  });
}

function onSwitches(domain: Domain): string {
  const names = domain.switches.map((one) => one.name);
  if (names.length === 0) return '';
  return ` on ${names.slice(0, 3).join(', ')}${names.length > 3 ? ` and ${names.length - 3} more` : ''}`;
}

function describe(own: readonly Node[], joined: string): Domain {
  const vlans = byName(new Set(own.flatMap((node) => node.vlan ?? [])), (vlan) => `${vlan.name}\n${vlan.rig.name}`);
  const switches = byName(new Set(own.flatMap((node) => node.switch ?? [])), (one) => one.name);
  const [first] = vlans;
  if (first === undefined) return { ...nameless(own[0]), vlans, switches };
  if (vlans.length === 1) return { title: `VLAN ${first.name}`, key: first.name, vlans, switches };
  const networks = new Set(vlans.map((vlan) => vlan.network?.name));
  const [network] = networks;
  const names = vlans.map((vlan) => vlan.name);
  const list =
    names.length > 4
      ? `${names.slice(0, 4).join(', ')} and ${names.length - 4} more`
      : `${names.slice(0, -1).join(', ')} and ${names.at(-1) ?? ''}`;
  return {
    title: `VLANs ${list} (${joined})`,
    key: networks.size === 1 && network !== undefined ? network : first.name,
    vlans,
    switches,
  };
}

function nameless(node: Node | undefined): { readonly title: string; readonly key: string } {
  if (node?.network !== undefined) return { title: `network ${node.network.name}`, key: node.network.name };
  const number = (node?.path ?? 0) + 1;
  return { title: ['', 'the first legs', 'the second legs'][number] ?? `legs ${number}`, key: `path ${number}` };
}

function byName<T>(things: ReadonlySet<T>, name: (thing: T) => string): readonly T[] {
  return [...things].sort((a, b) => byCodeUnit(name(a), name(b)));
}
