/**
 * Routers in a row made by hand, each with what RFC 7761 has them do, written out: a stream takes the reverse of the way
 * from the receiver's router to its source, and loses one hop at each router (RFC 7761 §4.1.5, §4.2; RFC 1812 §5.3.1).
 */
import type { Cut, RoutedLink, RoutedPicture, RoutedRig, RoutedStream } from './routers.js';

export interface RoutedCase {
  readonly title: string;
  readonly rig: RoutedRig;
  /** One after the other. */
  readonly cuts: readonly Cut[];
  /** Whole, and after each cut. */
  readonly stages: readonly RoutedPicture[];
}

const way = (hosts: Readonly<Record<string, number>>, ...links: readonly string[]): RoutedPicture[string] => ({
  hosts,
  links: [...links].sort(),
});
const NOWHERE = way({});

const toBoth = (ttls: readonly number[], to: readonly string[]): readonly RoutedStream[] =>
  ttls.map((ttl) => ({ name: `ttl ${ttl}`, from: 's', ttl, to }));

const CHAIN_2: RoutedRig = {
  routers: ['r1', 'r2'],
  links: [{ between: ['r1', 'r2'] }],
  hosts: [
    { name: 's', at: 'r1' },
    { name: 'near', at: 'r1' },
    { name: 'far', at: 'r2' },
  ],
  streams: toBoth([16, 1, 2, 3], ['far']),
};

const CHAIN_3: RoutedRig = {
  routers: ['r1', 'r2', 'r3'],
  links: [{ between: ['r1', 'r2'] }, { between: ['r2', 'r3'] }],
  hosts: [
    { name: 's', at: 'r1' },
    { name: 'middle', at: 'r2' },
    { name: 'far', at: 'r3' },
  ],
  streams: [
    ...toBoth([16, 1, 2, 3, 4, 64], ['middle', 'far']),
    { name: 'middle alone', from: 's', to: ['middle'] },
    { name: 'nobody', from: 's', to: [] },
    { name: 'back', from: 'far', to: ['s'] },
  ],
};

/** The network of a router is a wire: who stands in the sender's sees the stream without any router. */
function beside(picture: RoutedPicture): RoutedPicture {
  return Object.fromEntries(
    Object.entries(picture).map(([name, one]) => {
      const ttl = Number(name.split(' ')[1]);
      return [name, { ...one, hosts: { near: ttl, ...one.hosts } }];
    }),
  );
}

function triangle(direct: RoutedLink): RoutedRig {
  return {
    routers: ['l1', 'l2', 'm'],
    links: [direct, { between: ['l1', 'm'] }, { between: ['m', 'l2'] }],
    hosts: [
      { name: 's', at: 'l1' },
      { name: 'r', at: 'l2' },
    ],
    streams: toBoth([16, 3], ['r']),
  };
}
const DIRECT = { 'ttl 16': way({ r: 14 }, 'l1>l2'), 'ttl 3': way({ r: 1 }, 'l1>l2') };
/** With three hops a stream comes to the last router and no further. */
const ROUND = { 'ttl 16': way({ r: 13 }, 'l1>m', 'm>l2'), 'ttl 3': way({}, 'l1>m', 'm>l2') };

const FABRIC: RoutedRig = {
  routers: ['l1', 'l2', 'sa', 'sb'],
  links: [{ between: ['l1', 'sa'] }, { between: ['l1', 'sb'] }, { between: ['l2', 'sa'] }, { between: ['l2', 'sb'] }],
  hosts: [
    { name: 's1', at: 'l1' },
    { name: 's2', at: 'l1' },
    { name: 'r', at: 'l2' },
  ],
  streams: [
    { name: 'one', from: 's1', to: ['r'] },
    { name: 'two', from: 's2', to: ['r'] },
    { name: 'three', from: 's1', to: ['r'] },
    { name: 'back', from: 'r', to: ['s1'] },
  ],
};
const bySpine = (spine: string): RoutedPicture => {
  const there = way({ r: 13 }, `l1>${spine}`, `${spine}>l2`);
  const back = way({ s1: 13, s2: 13 }, `l2>${spine}`, `${spine}>l1`);
  return { one: there, two: there, three: there, back };
};
/** Hosts of one network hear each other without any router. */
const withNeighbours = (picture: RoutedPicture): RoutedPicture =>
  Object.fromEntries(
    Object.entries(picture).map(([name, one]) => {
      const beside = name === 'two' ? { s1: 16 } : name === 'back' ? {} : { s2: 16 };
      return [name, { ...one, hosts: { ...beside, ...one.hosts } }];
    }),
  );

/** The rendezvous point stands beside the shortest way, which every last hop takes once it has heard a packet (RFC 7761 §4.2.1). */
const MEETING: RoutedRig = {
  routers: ['l1', 'l2', 'rp'],
  links: [{ between: ['l1', 'l2'] }, { between: ['l1', 'rp'] }, { between: ['rp', 'l2'] }],
  hosts: [
    { name: 's', at: 'l1' },
    { name: 'r', at: 'l2' },
    { name: 'm', at: 'rp' },
  ],
  rendezvous: 'rp',
  streams: [
    { name: 'far', from: 's', any: true, to: ['r'] },
    { name: 'both', from: 's', any: true, to: ['r', 'm'] },
    { name: 'back', from: 'r', any: true, to: ['s'] },
    { name: 'nobody', from: 's', any: true, to: [] },
    { name: 'specific', from: 's', to: ['r'] },
  ],
};

export const ROUTED: readonly RoutedCase[] = [
  {
    title: 'two routers in a row, and hops too few for them',
    rig: CHAIN_2,
    cuts: [{ links: [0] }],
    stages: [
      beside({
        'ttl 16': way({ far: 14 }, 'r1>r2'),
        'ttl 1': NOWHERE,
        'ttl 2': way({}, 'r1>r2'),
        'ttl 3': way({ far: 1 }, 'r1>r2'),
      }),
      beside({ 'ttl 16': NOWHERE, 'ttl 1': NOWHERE, 'ttl 2': NOWHERE, 'ttl 3': NOWHERE }),
    ],
  },
  {
    title: 'three routers in a row, one hop lost at each (M1)',
    rig: CHAIN_3,
    cuts: [{ links: [1] }],
    stages: [
      {
        'ttl 16': way({ middle: 14, far: 13 }, 'r1>r2', 'r2>r3'),
        'ttl 1': NOWHERE,
        'ttl 2': way({}, 'r1>r2'),
        'ttl 3': way({ middle: 1 }, 'r1>r2', 'r2>r3'),
        'ttl 4': way({ middle: 2, far: 1 }, 'r1>r2', 'r2>r3'),
        'ttl 64': way({ middle: 62, far: 61 }, 'r1>r2', 'r2>r3'),
        'middle alone': way({ middle: 14 }, 'r1>r2'),
        nobody: NOWHERE,
        back: way({ s: 13 }, 'r2>r1', 'r3>r2'),
      },
      {
        'ttl 16': way({ middle: 14 }, 'r1>r2'),
        'ttl 1': NOWHERE,
        'ttl 2': way({}, 'r1>r2'),
        'ttl 3': way({ middle: 1 }, 'r1>r2'),
        'ttl 4': way({ middle: 2 }, 'r1>r2'),
        'ttl 64': way({ middle: 62 }, 'r1>r2'),
        'middle alone': way({ middle: 14 }, 'r1>r2'),
        nobody: NOWHERE,
        back: NOWHERE,
      },
    ],
  },
  {
    title: 'a triangle: direct, and round when that link is cut, where three hops are too few (M2)',
    rig: triangle({ between: ['l1', 'l2'] }),
    cuts: [{ links: [0] }],
    stages: [DIRECT, ROUND],
  },
  {
    title: "a triangle, the direct link dear at the receiver's router: round (M3a)",
    rig: triangle({ between: ['l1', 'l2'], costs: [10, 50] }),
    cuts: [],
    stages: [ROUND],
  },
  {
    title: "a triangle, the direct link dear at the sender's router: direct all the same (M3b)",
    rig: triangle({ between: ['l1', 'l2'], costs: [50, 10] }),
    cuts: [],
    stages: [DIRECT],
  },
  {
    title:
      'leaves and spines: equal paths, all by the lower neighbour address; by the other spine when that is lost (M4, M5)',
    rig: FABRIC,
    cuts: [{ links: [0, 2] }],
    stages: [withNeighbours(bySpine('sa')), withNeighbours(bySpine('sb'))],
  },
  {
    title: 'any-source streams: by the shortest way, and round by the rendezvous point when that is cut (M11b)',
    rig: MEETING,
    cuts: [{ links: [0] }],
    stages: [
      {
        far: way({ r: 14 }, 'l1>l2'),
        both: way({ r: 14, m: 14 }, 'l1>l2', 'l1>rp'),
        back: way({ s: 14 }, 'l2>l1'),
        nobody: NOWHERE,
        specific: way({ r: 14 }, 'l1>l2'),
      },
      {
        far: way({ r: 13 }, 'l1>rp', 'rp>l2'),
        both: way({ r: 13, m: 14 }, 'l1>rp', 'rp>l2'),
        back: way({ s: 13 }, 'l2>rp', 'rp>l1'),
        nobody: NOWHERE,
        specific: way({ r: 13 }, 'l1>rp', 'rp>l2'),
      },
    ],
  },
];
