// Shows alarm messages of the server while no page is open. Plain script: a service worker is not part of the build.
self.addEventListener('push', (event) => {
  const { incident, title, url, isUrgent } = event.data.json()
  event.waitUntil(
    self.registration.showNotification(title, {
      body: 'Tap to see it and to acknowledge. Monitoring is not protection.',
      // What is told later of one event takes the place of what was told before, and is heard again.
      tag: incident,
      renotify: true,
      requireInteraction: isUrgent,
      data: { url },
    }),
  )
})

self.addEventListener('notificationclick', (event) => {
  event.notification.close()
  event.waitUntil(self.clients.openWindow(event.notification.data.url))
})
