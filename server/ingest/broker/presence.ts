/** Words under the presence topic, retained: whether this server is there. */
export const ONLINE = 'online'
export const OFFLINE = 'offline'
