// Ramwright's portal: the custom element <ramwright-lift>, in one module without dependency.
//
// Works out a lift while it is typed in: sends the request that the form stands for to the service that serves this file
// and shows verdict, rams, checks, drawings and sheets. Nothing is computed here. It needs no inline style, no eval and
// no markup made of text, so that it works under `default-src 'none'; script-src 'self'; connect-src 'self'`.
//
// Attributes: base (address of the service, else where this file lies), example (name of an example to begin with),
// theme (light or dark, else as the reader prefers).
// Properties: request (get and set), result (the last answer, read only).
// Events, bubbling and composed, with detail: ramwright-change, ramwright-result, ramwright-problem.

"use strict";
