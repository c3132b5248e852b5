"""Builds chains and fabrics of routers: each a namespace with kernel multicast routing and zebra, ospfd and pimd of FRR.

Reads a list of fabrics (JSON) from standard input, runs them side by side, writes what it saw to standard output: for each
time the senders sent and each stream, the hosts it came to with the hops it had left, and the links it came over.
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

    def configure(self):
        pim, ospf = [], []
        for port in self.spec['ports']:
            pim += [f"interface {port['name']}", ' ip pim', ' ip pim hello 2 7']
            ospf += [f"interface {port['name']}", f" ip ospf cost {port['cost']}", ' ip ospf hello-interval 1',
                     ' ip ospf dead-interval 4']
            if port['lan']:
                pim += [' ip igmp', ' ip igmp query-interval 10']
                ospf.append(' ip ospf passive')
            else:
                ospf.append(' ip ospf network point-to-point')
        ospf += ['router ospf', f" ospf router-id 9.9.9.{self.spec['number']}", ' timers throttle spf 10 50 500',
                 ' network 10.0.0.0/8 area 0']
        for name, lines in (('zebra', []), ('ospfd', ospf), ('pimd', pim)):
            with open(f'{self.folder}/{name}.conf', 'w') as file:
                file.write('\n'.join([*lines, '']))

    def start(self):
        enter(self.namespace)
        ip([f"address add {port['address']} dev {port['name']}" for port in self.spec['ports']]
           + [f"link set {port['name']} up" for port in self.spec['ports']] + ['link set lo up'])
        self.configure()
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

    def is_ready(self, networks):
        """Knows a way to every network, and a PIM neighbour on every transit link."""
        routes = self.ask('show ip route')
        neighbours = self.ask('show ip pim neighbor')
        transits = [port['name'] for port in self.spec['ports'] if not port['lan']]
        return all(network in routes for network in networks) and all(neighbours.get(name) for name in transits)


class Fabric:
    def __init__(self, spec, folder):
        self.spec = spec
        self.folder = folder
        self.hosts = {}
        self.routers = {}
        self.link_taps = []
        os.mkdir(folder)
        os.chmod(folder, 0o711)

    def build(self):
        with BUILDERS:
            for host in self.spec['hosts']:
                self.hosts[host['name']] = Host(host)
            for router in self.spec['routers']:
                self.routers[router['name']] = Router(router, f"{self.folder}/{router['name']}")
            for lan in self.spec['lans']:
                new_namespace()
                # No switch of its own: what a router sends into its network is all that is looked at.
                ip(['link add sw type bridge mcast_snooping 0', 'link set sw up'])
                ends = [('eth0', self.hosts[name].namespace) for name in lan['hosts']]
                ends += [(lan['port'], self.routers[lan['router']].namespace)]
                for number, (name, namespace) in enumerate(ends):
                    ip([f'link add p{number} type veth peer name {name} netns {path_of(namespace)}',
                        f'link set p{number} master sw up'])
                self.routers[lan['router']].lan = os.open('/proc/thread-self/ns/net', os.O_RDONLY | os.O_CLOEXEC)
            for link in self.spec['links']:
                (near, near_port), (far, far_port) = link['ends']
                enter(self.routers[near].namespace)
                ip([f'link add {near_port} type veth peer name {far_port} netns {path_of(self.routers[far].namespace)}'])
            for host in self.hosts.values():
                host.open()
            for router in self.routers.values():
                router.start()
            for link in self.spec['links']:
                (near, near_port), (far, far_port) = link['ends']
                for at, port, other in ((near, near_port, far), (far, far_port, near)):
                    enter(self.routers[at].namespace)
                    self.link_taps.append((f'{other}>{at}', tap(port)))

    def wait_until_ready(self):
        until = time.monotonic() + READY_S
        while not all(router.is_ready(self.spec['networks']) for router in self.routers.values()):
            if time.monotonic() > until:
                raise RuntimeError('routers did not meet in time')
            time.sleep(0.5)

    def run(self):
        seen = []
        for stream in self.spec['streams']:
            for name in stream['joins']:
                self.hosts[name].join(stream['group'], self.hosts[stream['host']].address)
        for step in [None, *self.spec['cuts']]:
            if step is not None:
                for (at, port) in step:
                    enter(self.routers[at].namespace)
                    ip([f'link set {port} down'])
            time.sleep(3)
            seen.append(self.send())
        return seen

    def send(self):
        return steady(self.round, MOST_ROUNDS, SAME_ROUNDS)

    def round(self):
        taps = [('hosts', name, host.tap) for name, host in self.hosts.items()]
        taps += [('links', name, sock) for name, sock in self.link_taps]
        return count_round(self.send_one, self.spec['streams'], ('hosts', 'links'), taps, QUIET_S, self.name_by_hops)

    def send_one(self, number, stream):
        self.hosts[stream['host']].send(stream['group'], number, stream['ttl'])

    def name_by_hops(self, kind, name, number, _tag, hops):
        if kind == 'links':
            return name
        return None if name == self.spec['streams'][number]['host'] else f'{name} {hops}'


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
