// SPDX-License-Identifier: Apache-2.0
/// \file uploads.h
/// Files that a browser hands over, whole or not at all.
#pragma once

#include <fstream>
#include <string>

namespace swingloss {

/// A file on its way into FOLDER/clips or FOLDER/photos. Its name is made safe
/// (series/add_specimen.h) and never one that is there already: a number is put behind it then.
/// What was not finished is taken away.
class Upload {
 public:
  /// \param shelf  "clips" or "photos"
  /// \throws InputError  another shelf, or the place cannot be written
  Upload(const std::string& folder, const std::string& shelf, const std::string& given_name);
  Upload(const Upload&) = delete;
  Upload& operator=(const Upload&) = delete;
  ~Upload();

  /// \return false when it could not be written: the disk is full
  [[nodiscard]] bool write(const char* bytes, std::size_t count);
  /// The file is there now. \return its name in the shelf
  /// \throws InputError  it could not be written whole, or it is empty
  [[nodiscard]] std::string finish();

 private:
  std::string shelf_path_, name_, part_;
  std::ofstream out_;
  std::size_t bytes_ = 0;
  bool finished_ = false;
};

/// The file that a path below the address /results/ names: a regular file really inside
/// `results_folder`, wherever links lead. Empty for every other path: one with "..", hidden
/// names, backslashes, an ending that the desk does not serve, or none such file.
[[nodiscard]] std::string file_in_results(const std::string& results_folder,
                                          const std::string& path);

/// Media type by the ending of a file that the desk serves; empty: it does not.
[[nodiscard]] std::string media_type_of(const std::string& path);

}  // namespace swingloss
