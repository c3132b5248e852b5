import { describe, expect, it } from 'vitest';
import { readCsv } from '../../src/read/csv.js';
import { documentOf, leavesOf } from '../tools/tree-checks.js';
import { type Stream, streamsOf, LIST, HERON } from '../tools/stream-lists.js';

describe('a list', () => {
  it.each([
    ['LF', LIST.join('\n')],
    ['CRLF and a final line end', LIST.join('\r\n') + '\r\n'],
    ['lone CR', LIST.join('\r')],
    ['a byte order mark', '\ufeff' + LIST.join('\n')],
    ['semicolons', LIST.map((line) => line.replaceAll(',', ';').replace('start; finish', 'start, finish')).join('\n')],
    ['tabs', LIST.map((line) => line.replaceAll(',', '\t')).join('\n')],
    ['a separator line', 'sep=,\r\n' + LIST.join('\r\n')],
    [
      'every cell quoted',
      LIST.map((line) =>
        line
          .replaceAll('"', '')
          .replace('start, finish', 'start')
          .split(',')
          .map((cell) => `"${cell}"`)
          .join(','),
      ).join('\n'),
    ],
    [
      'comments, blank rows and headings between',
      [
        '# Heron, day 1',
        '',
        LIST[0],
        ',,,,,,,,,,,,,',
        LIST[1],
        '  ',
        '# audio',
        'AUDIO,,,,,,,,,,,,,',
        LIST[2],
        '',
      ].join('\n'),
    ],
  ])('reads the same with %s', (_, text) => {
    expect(streamsOf(text)).toEqual(HERON);
  });

  it('points each value at the content of its cell, quotes and blanks left out', () => {
    const text = 'name;group;port;source\n " cam ""1"" " ; 239.20.1.1 ;5004.0;"10.20.1.31"\n';
    const leaves = leavesOf(documentOf(readCsv('heron.csv', text)));
    expect(leaves.map(({ path, value, text: written }) => [path, value, written])).toEqual([
      ['streams.0.name', 'cam "1"', 'cam ""1""'],
      ['streams.0.legs.0.group', '239.20.1.1', '239.20.1.1'],
      ['streams.0.legs.0.source', '10.20.1.31', '10.20.1.31'],
      ['streams.0.legs.0.port', 5004, '5004.0'],
    ]);
  });

  it('points each key at its cell of the header', () => {
    const text = 'Stream,Mcast IP,Dst. Port\ncam-1,239.20.1.1,5004\n';
    const document = documentOf(readCsv('heron.csv', text));
    const leg = (document.value as { streams: readonly Stream[] }).streams[0]?.legs[0] ?? {};
    const entries = document.spans(new Set([leg])).get(leg)?.entries;
    const key = (name: string): string => text.slice(entries?.get(name)?.key?.start, entries?.get(name)?.key?.end);
    expect([key('group'), key('port')]).toEqual(['Mcast IP', 'Dst. Port']);
  });

  it('reads a list without any row', () => {
    expect(streamsOf('name,group\n')).toEqual([]);
  });
});

// The spellings are common practice, no source (essence.md §7 lists sheet columns, from memory).
describe('columns', () => {
  it.each([
    'group',
    'Group',
    'MULTICAST',
    'multicast_address',
    'Multicast-Group',
    'mcast',
    'Mcast IP',
    'Destination',
    'Dest. IP',
    'dst',
    'DEST.IP',
    'Group A',
    'group_1',
    'Primary Group',
    'Main Group',
    'Path 1',
    'Primary',
    'Red Group',
    'Amber',
    'Multicast (Red)',
    'Leg A group',
  ])('%j holds the first group', (header) => {
    expect(streamsOf(`name,${header}\ncam-1,239.20.1.1\n`)[0]?.legs).toEqual([{ group: '239.20.1.1' }]);
  });

  it.each([
    ['Group A', 'Group B'],
    ['group1', 'group2'],
    ['Primary Group', 'Secondary Group'],
    ['Main', 'Backup'],
    ['Red Multicast', 'Blue Multicast'],
    ['Amber', 'Blue'],
    ['Path 1', 'Path 2'],
    ['Group', 'Group B'],
    ['mcast a', 'mcast b'],
  ])('%j and %j hold the groups of a pair', (first, second) => {
    expect(streamsOf(`name,${first},${second}\ncam-1,239.20.1.1,239.120.1.1\n`)[0]?.legs).toEqual([
      { group: '239.20.1.1' },
      { group: '239.120.1.1' },
    ]);
  });

  it.each<readonly [string, string, Readonly<Record<string, unknown>>]>([
    ['Source', '10.20.1.31', { source: '10.20.1.31' }],
    ['Src IP', '10.20.1.31', { source: '10.20.1.31' }],
    ['Source A', '10.20.1.31', { source: '10.20.1.31' }],
    ['port', '5004', { port: 5004 }],
    ['Dst_Port', '5004', { port: 5004 }],
    ['Port A', '5004', { port: 5004 }],
    ['Source Port', '5004', { sourcePort: 5004 }],
    ['Payload Type', '96', { payloadType: 96 }],
    ['TTL', '16', { ttl: 16 }],
    ['DSCP', 'EF', { dscp: 46 }], // RFC 3246
    ['DSCP', 'cs7', { dscp: 56 }], // RFC 2474
    ['DSCP', 'AF41', { dscp: 34 }], // RFC 2597
    ['NIC', 'media-a', { interface: 'media-a' }],
    ['VLAN', '120', { vlan: '120' }],
    ['Network', 'red', { network: 'red' }],
    ['Packet Time', '1', { packetTime: '1 ms' }],
    ['ptime', '125 µs', { packetTime: '125 us' }],
    ['ptime', '"0,125"', { packetTime: '0.125 ms' }],
  ])('%s of %s', (header, cell, fact) => {
    const [stream] = streamsOf(`name,group,${header}\ncam-1,239.20.1.1,${cell}\n`);
    expect(stream?.legs).toEqual([{ group: '239.20.1.1', ...fact }]);
  });

  it('writes channels and packet time as a format where the list names none', () => {
    const format = { essence: 'audio', channels: 8, packetTime: '1 ms' };
    expect(streamsOf('name,group,type,channels,ptime\nmics,239.20.2.1,audio,8,1\n')).toEqual([
      { name: 'mics', format, legs: [{ group: '239.20.2.1' }] },
    ]);
  });

  it('shares a port between legs only when no leg is named in its column', () => {
    const ports = (header: string): readonly unknown[] | undefined => {
      const [stream] = streamsOf(`name,group a,group b,${header}\ncam-1,239.20.1.1,239.120.1.1,5004\n`);
      return stream?.legs.map((leg) => leg['port']);
    };
    expect(ports('port')).toEqual([5004, 5004]);
    expect(ports('port a')).toEqual([5004, undefined]);
    expect(ports('port b')).toEqual([undefined, 5004]);
  });

  it('never shares a source or a network between legs', () => {
    expect(
      streamsOf('name,group a,group b,source,network\ncam-1,239.20.1.1,239.120.1.1,10.20.1.31,red\n')[0]?.legs,
    ).toEqual([{ group: '239.20.1.1', source: '10.20.1.31', network: 'red' }, { group: '239.120.1.1' }]);
  });

  it('ignores columns of other trades', () => {
    const others = 'Rack,MAC,IP,Owner,Changed on,PTP domain,Switch,Part,#,Fibre,Risk,Truss,Course';
    const text = `name,group,${others}\ncam-1,239.20.1.1${',x'.repeat(others.split(',').length)}\n`;
    expect(streamsOf(text)[0]?.legs).toEqual([{ group: '239.20.1.1' }]);
  });
});

describe('cells', () => {
  it.each(['', '-', 'n/a', 'N/A', 'none', 'TBD', '—'])('%j says nothing', (cell) => {
    expect(streamsOf(`name,group,port\ncam-1,239.20.1.1,${cell}\n`)[0]?.legs).toEqual([{ group: '239.20.1.1' }]);
  });

  it('take a port written behind the group', () => {
    expect(streamsOf('name,group\ncam-1,239.20.1.1:5004\n')[0]?.legs).toEqual([{ group: '239.20.1.1', port: 5004 }]);
  });

  it('take a unicast destination as one', () => {
    expect(streamsOf('name,destination\ncam-1,10.20.1.99\n')[0]?.legs).toEqual([{ unicast: '10.20.1.99' }]);
  });

  it('take IPv6', () => {
    expect(streamsOf('name,group,source\ncam-1,ff3e::8000:1,2001:db8::31\n')[0]?.legs).toEqual([
      { group: 'ff3e::8000:1', source: '2001:db8::31' },
    ]);
  });

  it('leave a kind of device in a column `type` alone', () => {
    expect(streamsOf('name,group,type\ncam-1,239.20.1.1,Camera\n')[0]).not.toHaveProperty('essence');
  });
});

describe('names', () => {
  it.each([
    ['device,name', 'cam-1,video', 'cam-1 video'],
    ['device,name', 'cam-1,CAM-1 video', 'CAM-1 video'],
    ['device,name', 'cam-1,', 'cam-1'],
    ['device,name', ',video', 'video'],
    ['device,name', 'cam/1,video\u0007', 'cam-1 video'],
    ['device,name', ',', '239.20.1.1'],
    ['rack,row', '1,1', '239.20.1.1'],
  ])('%s of %s', (header, cells, name) => {
    expect(streamsOf(`${header},group\n${cells},239.20.1.1\n`)[0]?.name).toBe(name);
  });

  it('are kept apart when rows repeat one', () => {
    expect(
      streamsOf('name,group\nvideo,239.20.1.1\nvideo,239.20.1.2\nvideo 2,239.20.1.3\n').map(({ name }) => name),
    ).toEqual(['video', 'video 2', 'video 2 2']);
  });
});

describe('a row per leg', () => {
  it.each([
    ['leg', 'a', 'b', {}, {}],
    ['path', '1', '2', {}, {}],
    ['network', 'red', 'blue', { network: 'red' }, { network: 'blue' }],
    ['vlan', '120', '220', { vlan: '120' }, { vlan: '220' }],
    ['interface', 'a', 'b', { interface: 'a' }, { interface: 'b' }],
  ])('is one stream when a column %s tells rows apart', (header, first, second, one, two) => {
    const rows = [`cam-1,${first},239.20.1.1`, `mics,${first},239.20.2.1`, `cam-1,${second},239.120.1.1`];
    expect(streamsOf([`name,${header},group`, ...rows].join('\n'))).toEqual([
      {
        name: 'cam-1',
        legs: [
          { group: '239.20.1.1', ...one },
          { group: '239.120.1.1', ...two },
        ],
      },
      { name: 'mics', legs: [{ group: '239.20.2.1', ...one }] },
    ]);
  });

  it('puts the first leg first, whatever the order of the rows', () => {
    const text = 'name,leg,group\ncam-1,backup,239.120.1.1\ncam-1,main,239.20.1.1\n';
    expect(streamsOf(text)[0]?.legs.map((leg) => leg['group'])).toEqual(['239.20.1.1', '239.120.1.1']);
  });

  it('keeps a second leg the second when the first is missing', () => {
    expect(streamsOf('name,group a,group b\ncam-1,,239.120.1.1\n')[0]?.legs).toEqual([{}, { group: '239.120.1.1' }]);
  });
});
