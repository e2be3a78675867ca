// SPDX-License-Identifier: Apache-2.0
import { render } from "preact";
import { App } from "./app";

const page = document.getElementById("page");
if (page !== null) render(<App />, page);
