// What the entries of this subject share: rows that come again and again, and the several ways to say one thing.
#pragma once

#include <initializer_list>
#include <string>
#include <vector>

#include "science/catalogue.h"
#include "science/hydraulics/pipe_loss.h"

namespace leat::science::hydraulic_entries {

using Rows = std::vector<InputRow>;

InputRow needed(std::string_view name, std::string_view unit, double low, double high, std::string_view meaning);
InputRow optional(std::string_view name, std::string_view unit, double low, double high, std::string_view meaning);
InputRow taken(std::string_view name, std::string_view unit, double low, double high, std::string_view meaning,
               double otherwise);
/// A word or a list, read by the entry itself.
InputRow text(std::string_view name, std::string_view meaning);
Rows joined(std::initializer_list<Rows> parts);
/// A name made at run time that lives as long as the program.
std::string_view kept(std::string name);

InputRow gravity_row();
InputRow bore_row();
InputRow flow_row();
InputRow length_row();
Rows viscosity_rows();  ///< kinematic, or dynamic and density
Rows velocity_rows();   ///< velocity, or flow and bore
Rows reynolds_rows();   ///< Reynolds number, or velocity and viscosity
Rows roughness_rows();  ///< over the bore, or as a length

Length<> length_of(const Given& given, std::string_view name);
Flow<> flow_of(const Given& given, std::string_view name = "flow");
Number<> number_of(const Given& given, std::string_view name);
Acceleration<> gravity_of(const Given& given);
KinematicViscosity<> viscosity_of(const Given& given);
Velocity<> velocity_of(const Given& given);
Number<> reynolds_of(const Given& given);
Number<> relative_roughness_of(const Given& given);
Length<> roughness_of(const Given& given);
/// bore, length, roughness and the sum of K (0 if not said).
PipeRun pipe_of(const Given& given);

/// A number whose unit has half powers ("3.09 ft0.5/s") or a bracket ("0.16 ft/(ft3/s)^2"), in SI; bare is SI.
double odd_unit_number(const Given& given, std::string_view name);
inline constexpr double foot = 0.3048;
/// SI of one ft/(ft3/s)^2.
inline constexpr double foot_per_flow_squared = 1.0 / (foot * foot * foot * foot * foot);

std::vector<Entry> friction_entries();
std::vector<Entry> pipe_entries();
std::vector<Entry> minor_loss_entries();
std::vector<Entry> pump_entries();
std::vector<Entry> network_entries();
std::vector<Entry> part_full_entries();
std::vector<Entry> channel_entries();
std::vector<Entry> outlet_entries();

}  // namespace leat::science::hydraulic_entries
