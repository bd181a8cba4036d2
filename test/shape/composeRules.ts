/**
 * The rules of the Compose Specification that our file can break: names, known keys, and that everything
 * referred to is declared. Source: compose-spec, schema/compose-spec.json and 15-profiles.md.
 */
export interface ComposeFile {
  [key: string]: unknown
  services: Record<string, ComposeService>
  volumes?: Record<string, unknown>
  configs?: Record<string, { content?: string; file?: string; external?: boolean }>
}

interface ComposeService {
  [key: string]: unknown
  image?: string
  build?: unknown
  command?: unknown
  profiles?: string[]
  ports?: string[]
  volumes?: string[]
  configs?: { source: string; target: string }[]
  depends_on?: Record<string, { condition: string; required?: boolean }>
  healthcheck?: Record<string, unknown>
  restart?: string
}

const NAME = /^[a-zA-Z0-9._-]+$/
const PROFILE = /^[a-zA-Z0-9][a-zA-Z0-9_.-]+$/
const PORT = /^(?:(?:\d{1,3}\.){3}\d{1,3}:)?\d{1,5}:\d{1,5}(?:\/(?:tcp|udp))?$/
const VOLUME = /^([^:]+):(\/[^:]*)(?::(?:ro|rw))?$/
const DURATION = /^(?:\d+(?:us|ms|s|m|h))+$/
const RESTART = /^(?:no|always|unless-stopped|on-failure(?::\d+)?)$/
const CONDITIONS = ['service_started', 'service_healthy', 'service_completed_successfully']
const TOP_KEYS = ['name', 'services', 'volumes', 'configs', 'networks', 'secrets', 'include', 'models']
const HEALTH_KEYS = ['test', 'interval', 'timeout', 'retries', 'start_period', 'start_interval', 'disable']
// those that this project has a use for; the specification knows about ninety
const SERVICE_KEYS =
  'build cap_add cap_drop command configs cpus depends_on entrypoint env_file environment expose extra_hosts healthcheck hostname image init labels logging mem_limit networks ports profiles read_only restart secrets security_opt shm_size stop_grace_period stop_signal tmpfs ulimits user volumes working_dir'.split(
    ' ',
  )

/** One sentence per broken rule. */
export function composeFaults(file: ComposeFile): string[] {
  const unknown = Object.keys(file).filter((key) => !TOP_KEYS.includes(key) && !key.startsWith('x-'))
  return [
    ...unknown.map((key) => `unknown key "${key}" at the top`),
    ...Object.entries(file.services).flatMap(([name, service]) =>
      serviceFaults(service, file).map((fault) => `services.${name}: ${fault}`),
    ),
    ...Object.entries(file.configs ?? {}).flatMap(([name, config]) =>
      [config.content, config.file, config.external].filter((one) => one !== undefined).length === 1
        ? []
        : [`configs.${name}: expected exactly one of content, file, external`],
    ),
    ...[...Object.keys(file.services), ...Object.keys(file.volumes ?? {}), ...Object.keys(file.configs ?? {})]
      .filter((name) => !NAME.test(name))
      .map((name) => `"${name}" is not a name`),
  ]
}

function serviceFaults(service: ComposeService, file: ComposeFile): string[] {
  const unknown = Object.keys(service).filter((key) => !SERVICE_KEYS.includes(key) && !key.startsWith('x-'))
  return [
    ...unknown.map((key) => `unknown key "${key}"`),
    ...(service.image || service.build ? [] : ['neither image nor build']),
    ...misfits('profile', service.profiles, PROFILE),
    ...misfits('port', service.ports, PORT),
    ...misfits('volume', service.volumes, VOLUME),
    ...misfits('restart', service.restart === undefined ? [] : [service.restart], RESTART),
    ...namedVolumes(service)
      .filter((name) => !(name in (file.volumes ?? {})))
      .map((name) => `volume "${name}" is not declared`),
    ...(service.configs ?? [])
      .filter((one) => !(one.source in (file.configs ?? {})))
      .map((one) => `config "${one.source}" is not declared`),
    ...dependencyFaults(service, file),
    ...healthFaults(service.healthcheck ?? {}),
  ]
}

function misfits(what: string, entries: readonly unknown[] = [], pattern: RegExp): string[] {
  return entries
    .filter((entry) => typeof entry !== 'string' || !pattern.test(entry))
    .map((entry) => `${what} ${JSON.stringify(entry)} does not have the form of one`)
}

/** Sources that are no path: "data" of "data:/data". */
function namedVolumes(service: ComposeService): string[] {
  return (service.volumes ?? [])
    .map((one) => VOLUME.exec(one)?.[1] ?? '')
    .filter((name) => NAME.test(name) && !name.startsWith('.'))
}

function dependencyFaults(service: ComposeService, file: ComposeFile): string[] {
  return Object.entries(service.depends_on ?? {}).flatMap(([name, { condition, required = true }]) => {
    const other = file.services[name]
    if (!other) return [`depends on "${name}", which is no service`]
    const faults = CONDITIONS.includes(condition) ? [] : [`condition "${condition}" is unknown`]
    if (condition === 'service_healthy' && !other.healthcheck && other.image && !other.build)
      faults.push(`waits for the health of "${name}", which has no healthcheck`)
    // a service that runs cannot require one that its profile leaves out
    const isAlwaysThere = (other.profiles ?? []).length === 0
    const isThereWithUs =
      (service.profiles ?? []).length > 0 && service.profiles!.every((one) => other.profiles?.includes(one))
    if (required && !isAlwaysThere && !isThereWithUs)
      faults.push(`requires "${name}", which a profile leaves out`)
    return faults
  })
}

function healthFaults(health: Record<string, unknown>): string[] {
  const unknown = Object.keys(health).filter((key) => !HEALTH_KEYS.includes(key))
  const times = ['interval', 'timeout', 'start_period'].flatMap((key) => (key in health ? [health[key]] : []))
  const test = health['test']
  const isTest =
    test === undefined ||
    typeof test === 'string' ||
    (Array.isArray(test) && /^(?:CMD|CMD-SHELL|NONE)$/.test(String(test[0])))
  return [
    ...unknown.map((key) => `healthcheck: unknown key "${key}"`),
    ...misfits('healthcheck time', times, DURATION),
    ...(isTest ? [] : ['healthcheck.test has to begin with CMD, CMD-SHELL or NONE']),
  ]
}
