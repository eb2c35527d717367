// The forms of assets/indicators.json, for tests.
#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <sstream>
#include <string>

#include "app/scale/line_form.h"

namespace ligule::scale {

inline LineForm form_named(const std::string& assets, std::string_view code) {
  std::stringstream text;
  text << std::ifstream(assets + "/indicators.json").rdbuf();
  const auto forms = parse_line_forms(text.str(), "indicators.json");
  if (!forms) {
    ADD_FAILURE() << one_line(forms.error());
    return {};
  }
  const auto found = std::ranges::find(*forms, code, &LineForm::code);
  if (found == forms->end()) {
    ADD_FAILURE() << "no form " << code;
    return {};
  }
  return *found;
}

}  // namespace ligule::scale
