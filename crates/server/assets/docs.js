// The browsable description: no outside validator, no settings from the address, no top bar.
SwaggerUIBundle({
  url: "openapi.json",
  dom_id: "#docs",
  layout: "BaseLayout",
  presets: [SwaggerUIBundle.presets.apis],
  deepLinking: true,
  docExpansion: "list",
  defaultModelsExpandDepth: 0,
  queryConfigEnabled: false,
  validatorUrl: null,
});
