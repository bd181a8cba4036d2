# Headrace in a container: docker compose up, or docker build -t headrace .

FROM node:20-bookworm-slim AS build
WORKDIR /app
COPY package.json package-lock.json .npmrc ./
RUN npm ci
COPY . .
RUN npm run build && npm prune --omit=dev

FROM node:20-bookworm-slim
ENV NODE_ENV=production
WORKDIR /app
COPY --from=build /app/package.json /app/LICENSE ./
COPY --from=build /app/node_modules node_modules
COPY --from=build /app/dist dist
COPY --from=build /app/simulator/sites simulator/sites
RUN install -d -o node -g node /data
USER node
VOLUME /data
EXPOSE 8080 1883
HEALTHCHECK --interval=10s --timeout=5s --start-period=20s --retries=3 \
  CMD ["node", "-e", "fetch('http://127.0.0.1:8080/api/health').then((reply) => process.exit(reply.ok ? 0 : 1), () => process.exit(1))"]
# node as the first process handles SIGTERM itself: the server closes its stores before it ends
ENTRYPOINT ["node", "dist/server/main.js"]
CMD ["--data", "/data", "--http-host", "0.0.0.0", "--open-reading"]
