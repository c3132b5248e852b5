"""Builds chains and fabrics of routers: each a namespace with kernel multicast routing and zebra, ospfd and pimd of FRR.

Reads a list of fabrics (JSON) from standard input, runs them side by side, writes what it saw to standard output: for each
time the senders sent and each stream, the hosts it came to and the links it came over, with the hops it had left.
"""
import json
import os
import shutil
import subprocess
import sys
import time

from host import Host
from packets import tap
from rounds import PACKETS_A_ROUND, count_round, side_by_side, steady
from space import BUILDERS, enter, ip, new_namespace, path_of, run, write_setting

DAEMONS = '/usr/lib/frr'
MOST_ROUNDS = 15
SAME_ROUNDS = 3
QUIET_S = 0.4
READY_S = 60
SETTLE_S = 2
# As `routers.ts` states them in the plan.
IGMP_INTERVAL_S = 2
IGMP_RESPONSE_DS = 4
JOIN_PRUNE_S = 1
SWITCHED_S = 3 * JOIN_PRUNE_S
DEADLINE_S = 150

# The daemons change their user, after which nothing would end them with the one that started them: so they are the
# children of a first process, and end with it.
MORTAL = ['setpriv', '--pdeathsig', 'KILL', 'unshare', '--pid', '--fork', '--kill-child', '--mount-proc']


class Router:
    def __init__(self, spec, folder):
        self.spec = spec
        self.folder = folder
        self.namespace = new_namespace()
        for name, value in (('ip_forward', '1'), ('conf/all/rp_filter', '0'), ('conf/default/rp_filter', '0')):
            write_setting(f'net/ipv4/{name}', value)
        os.mkdir(folder)
        shutil.chown(folder, 'frr', 'frr')

    def configure(self, rendezvous):
        pim, ospf = [], []
        if rendezvous is not None:
            # A last hop that has switched to the shortest path says so to the others with its next periodic join.
            pim += [f'ip pim rp {rendezvous} 224.0.0.0/4', f'ip pim join-prune-interval {JOIN_PRUNE_S}']
        for port in self.spec['ports']:
            pim += [f"interface {port['name']}", ' ip pim', ' ip pim hello 2 7']
            ospf += [f"interface {port['name']}", f" ip ospf cost {port['cost']}", ' ip ospf hello-interval 1',
                     ' ip ospf dead-interval 4']
            if port['lan']:
                pim += [' ip igmp', f" ip igmp query-max-response-time {IGMP_RESPONSE_DS}",
                        f' ip igmp query-interval {IGMP_INTERVAL_S}']
                ospf.append(' ip ospf passive')
            else:
                ospf.append(' ip ospf network point-to-point')
        ospf += ['router ospf', f" ospf router-id 9.9.9.{self.spec['number']}", ' timers throttle spf 10 50 500',
                 ' timers throttle lsa all 100', ' timers lsa min-arrival 50',
                 ' network 10.0.0.0/8 area 0']
        for name, lines in (('zebra', []), ('ospfd', ospf), ('pimd', pim)):
            with open(f'{self.folder}/{name}.conf', 'w') as file:
                file.write('\n'.join([*lines, '']))

    def start(self, rendezvous):
        enter(self.namespace)
        ip([f"address add {port['address']} dev {port['name']}" for port in self.spec['ports']]
           + [f"link set {port['name']} up" for port in self.spec['ports']] + ['link set lo up'])
        self.configure(rendezvous)
        common = (f'--vty_socket {self.folder} -P 0 -u frr -g frr -z {self.folder}/zserv --log file:{self.folder}/log')
        words = [f'{DAEMONS}/{name} {common} -i {self.folder}/{name}.pid -f {self.folder}/{name}.conf &'
                 for name in ('zebra', 'ospfd', 'pimd')]
        wait = f'while [ ! -S {self.folder}/zserv ]; do sleep 0.05; done;'
        subprocess.Popen([*MORTAL, 'sh', '-c', ' '.join([words[0], wait, *words[1:], 'wait'])],
                         stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)

    def ask(self, command):
        try:
            return json.loads(run(['vtysh', '--vty_socket', self.folder, '-c', command + ' json']))
        except (RuntimeError, ValueError):
            # Not there yet.
            return {}

    def knows(self, ways):
        """Whether it has exactly these ways, networks with the neighbours to ask; all of equal cost, as the first one found may stay."""
        routes = self.ask('show ip route ospf')
        found = {network: {hop.get('ip') for hop in routes[network][0].get('nexthops', [])}
                 for network in routes if not network.endswith('/31')}
        return {network: hops for network, hops in found.items() if hops != {None}} == ways

    def has_met(self, ports):
        neighbours = self.ask('show ip pim neighbor')
        return all(neighbours.get(port) for port in ports)


class Fabric:
    def __init__(self, spec, folder):
        self.spec = spec
        self.folder = folder
        self.hosts = {}
        self.routers = {}
        self.link_taps = []
        self.gone = set()
        # By link or router: the interfaces that lose their carrier with it.
        self.ends = {}
        os.mkdir(folder)
        os.chmod(folder, 0o711)

    def build(self):
        with BUILDERS:
            for host in self.spec['hosts']:
                self.hosts[host['name']] = Host(host)
            for router in self.spec['routers']:
                self.routers[router['name']] = Router(router, f"{self.folder}/{router['name']}")
            for lan in self.spec['lans']:
                self.build_lan(lan)
            for link in self.spec['links']:
                (near, near_port), (far, far_port) = link['ends']
                enter(self.routers[near].namespace)
                ip([f'link add {near_port} type veth peer name {far_port} netns {path_of(self.routers[far].namespace)}'])
            for host in self.hosts.values():
                host.open()
            for router in self.routers.values():
                router.start(self.spec.get('rendezvous'))
            for link in self.spec['links']:
                (near, near_port), (far, far_port) = link['ends']
                for at, port, other in ((near, near_port, far), (far, far_port, near)):
                    enter(self.routers[at].namespace)
                    self.link_taps.append((f"{other}>{at}{link['tag']}", tap(port)))
                    for name in (link['name'], at):
                        self.ends.setdefault(name, []).append((self.routers[at].namespace, port))

    def build_lan(self, lan):
        """A network of hosts: a bridge at the router, one more for each switch below it."""
        bridges = {}
        for bridge in lan['bridges']:
            bridges[bridge['name']] = new_namespace()
            ip([f"link add sw type bridge {bridge['options']}", 'link set sw up'])
            ends = [('eth0', self.hosts[name].namespace) for name in bridge['hosts']]
            if bridge['name'] == lan['router']:
                ends += [(lan['port'], self.routers[lan['router']].namespace)]
            for number, (name, namespace) in enumerate(ends):
                ip([f'link add p{number} type veth peer name {name} netns {path_of(namespace)}',
                    f'link set p{number} master sw up'])
                self.ends.setdefault(bridge['name'], []).append((bridges[bridge['name']], f'p{number}'))
        for number, (near, far, name) in enumerate(lan['links']):
            enter(bridges[near])
            ip([f'link add t{number} type veth peer name t{number} netns {path_of(bridges[far])}',
                f'link set t{number} master sw up'])
            enter(bridges[far])
            ip([f'link set t{number} master sw up'])
            for at, other in ((near, far), (far, near)):
                enter(bridges[at])
                self.link_taps.append((f"{other}>{at}@{lan['name']}", tap(f't{number}')))
                self.ends.setdefault(at, []).append((bridges[at], f't{number}'))
                self.ends.setdefault(name, []).append((bridges[at], f't{number}'))

    def wait_until_ready(self):
        """Until every router has all its ways and a PIM neighbour on every link that is there."""
        self.wait_for({name: router for name, router in self.routers.items() if name not in self.gone},
                      'routers did not meet in time')

    def wait_for(self, waiting, problem):
        ways = unicast_ways(self.spec, self.gone)
        transits = {name: [] for name in self.routers}
        for link in self.spec['links']:
            if link['name'] not in self.gone and not self.gone & {router for router, _ in link['ends']}:
                for router, port in link['ends']:
                    transits[router].append(port)
        until = time.monotonic() + READY_S
        while True:
            waiting = {name: router for name, router in waiting.items()
                       if not (router.has_met(transits[name]) and router.knows(ways[name]))}
            if not waiting:
                return
            if time.monotonic() > until:
                raise RuntimeError(f'{problem}: {sorted(waiting)}')
            time.sleep(0.7)

    def take_away(self, names):
        """By the carrier: links, or routers with all that is plugged to them."""
        self.gone |= set(names)
        for name in names:
            for namespace, port in self.ends.get(name, []):
                enter(namespace)
                ip([f'link set {port} down'])

    def run(self):
        seen = []
        for stream in self.spec['streams']:
            for name in stream['joins']:
                self.hosts[name].join(stream['group'], None if stream['any'] else self.hosts[stream['host']].address)
        time.sleep(SETTLE_S)
        seen.append(self.send())
        for cut in self.spec['cuts']:
            self.take_away(cut['names'])
            self.wait_until_ready()
            time.sleep(cut['settleS'])
            seen.append(self.send())
        return seen

    def send(self):
        if 'rendezvous' in self.spec:
            # First packets go by the rendezvous point, and a copy does until the next join or prune.
            self.round()
            time.sleep(SWITCHED_S)
        return steady(self.round, MOST_ROUNDS, SAME_ROUNDS)

    def round(self):
        taps = [('hosts', name, host.tap) for name, host in self.hosts.items()]
        taps += [('links', name, sock) for name, sock in self.link_taps]
        return count_round(self.send_one, self.spec['streams'], ('hosts', 'links'), taps, QUIET_S, self.name_by_hops)

    def send_one(self, number, stream):
        self.hosts[stream['host']].send(stream['group'], number, stream['ttl'])

    def name_by_hops(self, kind, name, number, _tag, hops):
        return None if kind == 'hosts' and name == self.spec['streams'][number]['host'] else f'{name} {hops}'


def unicast_ways(spec, gone):
    """By router: the networks of others with the addresses to ask, all that cost least (RFC 2328 section 16.1)."""
    addresses = {(router['name'], port['name']): port for router in spec['routers'] for port in router['ports']}
    hops = []
    for link in spec['links']:
        if link['name'] in gone or gone & {router for router, _ in link['ends']}:
            continue
        for (near, near_port), (far, far_port) in (link['ends'], link['ends'][::-1]):
            hops.append((near, addresses[near, near_port]['cost'], far, addresses[far, far_port]['address'].split('/')[0]))
    ways = {router['name']: {} for router in spec['routers']}
    for lan in spec['lans']:
        costs = {} if lan['router'] in gone else {lan['router']: 0}
        for _ in spec['routers']:
            for near, cost, far, _ in hops:
                if far in costs:
                    costs[near] = min(costs.get(near, cost + costs[far]), cost + costs[far])
        for near, cost, far, address in hops:
            if near != lan['router'] and far in costs and costs[near] == cost + costs[far]:
                ways[near].setdefault(lan['network'], set()).add(address)
    return ways


def see(spec, folder):
    fabric = Fabric(spec, folder)
    fabric.build()
    fabric.wait_until_ready()
    return fabric.run()


def main():
    folder = sys.argv[1]
    os.chmod(folder, 0o711)
    results = side_by_side(json.load(sys.stdin), lambda spec, number: see(spec, f'{folder}/f{number}'), DEADLINE_S)
    print(json.dumps({'packets': PACKETS_A_ROUND, 'results': results}))
    sys.stdout.flush()
    os._exit(0)


if __name__ == '__main__':
    main()
