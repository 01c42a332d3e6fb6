// What the entries of water, gases, carbonate, nitrogen and algae share.
#pragma once

#include <string_view>
#include <vector>

#include "science/catalogue.h"
#include "science/water/substances.h"

namespace leat::science::water_entry {

std::vector<Entry> property_entries();
std::vector<Entry> ion_entries();
std::vector<Entry> conversion_entries();
std::vector<Entry> dosing_entries();
std::vector<Entry> saturation_entries();
std::vector<Entry> transfer_entries();
std::vector<Entry> aeration_entries();
std::vector<Entry> constant_entries();
std::vector<Entry> acidity_entries();
std::vector<Entry> calcite_entries();
std::vector<Entry> ammonia_entries();
std::vector<Entry> nitrification_entries();
std::vector<Entry> stoichiometry_entries();
std::vector<Entry> algae_entries();

/// One of several ways to state a thing: may be absent.
InputRow maybe(InputRow row);
/// Has a value when it is not given.
InputRow assume(InputRow row, double value);
/// Rows together.
std::vector<InputRow> rows(std::initializer_list<std::vector<InputRow>> groups);

extern const InputRow temperature_row;
Temperature<> temperature_of(const Given& given);

/// Rows that state the air's pressure: pressure, or altitude; 101.325 kPa when neither is given.
std::vector<InputRow> pressure_rows();
Pressure<> pressure_of(const Given& given);

/// Rows that state the pressure of carbon dioxide: itself ("0.00042 atm"), or its share of dry air ("420 ppm").
std::vector<InputRow> carbon_dioxide_rows();
Pressure<> gas_pressure_of(const Given& given);

/// A concentration as it is written: "1.2 mmol/L", "5 mgN/L", "50 mg/L CaCO3", "3 dKH". The row's unit is empty; the
/// text carries it.
InputRow amount_row(std::string_view name, std::string_view meaning);
/// A mass without a basis is counted by `per_mole`; a bare number is in `bare_unit`. Throws std::out_of_range when the
/// input is absent or cannot be read.
Concentration<> amount_of(const Given& given, std::string_view name, MolarMass<> per_mole, std::string_view bare_unit);
/// The same, zero when it is absent.
Concentration<> amount_or_none(const Given& given, std::string_view name, MolarMass<> per_mole,
                               std::string_view bare_unit);
/// The same of a text; nothing when it cannot be read.
std::optional<Concentration<>> read_amount(std::string_view text, MolarMass<> per_mole, std::string_view bare_unit);

/// Ionic strength if it is stated, or from conductivity; `otherwise` when neither is.
std::vector<InputRow> ionic_strength_rows();
Concentration<> ionic_strength_of(const Given& given, Concentration<> otherwise);

/// A word that must be there. Throws std::out_of_range when `found` is false.
void need(bool found, std::string_view name);

}  // namespace leat::science::water_entry
