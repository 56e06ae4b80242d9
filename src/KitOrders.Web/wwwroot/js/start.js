// Starts the page's line to the server and the keys every page knows.
import "./drag.js";
import "./keys.js";
import "./reconnect.js";

// A lost line is noticed after twelve seconds instead of thirty; the server answers in the same rhythm.
Blazor.start({
  ssr: { disableDomPreservation: true },
  circuit: { configureSignalR: builder => builder.withServerTimeout(12000).withKeepAliveInterval(4000) },
});
